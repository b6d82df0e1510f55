import { readFile, realpath } from 'node:fs/promises';
import type { ServerResponse } from 'node:http';
import { extname, join, sep } from 'node:path';
import { RefusedAction } from '../refusals.js';
import { contentTypeOf } from './content-types.js';
import { send } from './http.js';

const PAGE_TYPES = new Set(['.html', '.css', '.js', '.map', '.svg', '.ico']);

/** Serves one file of the page, from this folder and nowhere else. */
export async function servePage(
  response: ServerResponse,
  folder: string | undefined,
  path: string,
): Promise<void> {
  const asked = path === '/' ? '/index.html' : path;
  const file = folder === undefined ? undefined : await fileIn(folder, asked);
  if (file === undefined) throw new RefusedAction('not_found', `There is nothing at ${asked}.`, 404);
  send(response, 200, contentTypeOf(asked) ?? 'application/octet-stream', file);
}

async function fileIn(folder: string, path: string): Promise<Buffer | undefined> {
  try {
    const parts = decodeURIComponent(path)
      .split('/')
      .filter((part) => part !== '');
    if (parts.some((part) => part.startsWith('.') || /[\\\0]/.test(part))) return undefined;
    if (!PAGE_TYPES.has(extname(parts.at(-1) ?? ''))) return undefined;
    const root = await realpath(folder);
    const file = await realpath(join(root, ...parts));
    return file.startsWith(root + sep) ? await readFile(file) : undefined;
  } catch {
    return undefined;
  }
}

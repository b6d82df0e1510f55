import { readFile, realpath } from 'node:fs/promises';
import type { ServerResponse } from 'node:http';
import { extname, join, sep } from 'node:path';
import { contentTypeOf } from './content-types.js';
import { send, sendJson } from './http.js';

const PAGE_TYPES = new Set(['.html', '.css', '.js', '.map', '.svg', '.ico']);

/** Serves one file of the page, from these folders and nowhere else; the first folder that has it wins. */
export async function servePage(
  response: ServerResponse,
  folders: readonly string[],
  path: string,
): Promise<void> {
  const asked = path === '/' ? '/index.html' : path;
  for (const folder of folders) {
    const file = await fileIn(folder, asked);
    if (file === undefined) continue;
    send(response, 200, contentTypeOf(asked) ?? 'application/octet-stream', file);
    return;
  }
  sendJson(response, 404, { error: 'not_found', message: `There is nothing at ${asked}.` });
}

async function fileIn(folder: string, path: string): Promise<Buffer | undefined> {
  const parts = decoded(path)
    ?.split('/')
    .filter((part) => part !== '');
  if (parts === undefined || parts.length === 0) return undefined;
  if (parts.some((part) => part.startsWith('.') || /[\\\0]/.test(part))) return undefined;
  if (!PAGE_TYPES.has(extname(parts.at(-1) ?? ''))) return undefined;
  try {
    const root = await realpath(folder);
    const file = await realpath(join(root, ...parts));
    return file.startsWith(root + sep) ? await readFile(file) : undefined;
  } catch {
    return undefined;
  }
}

function decoded(path: string): string | undefined {
  try {
    return decodeURIComponent(path);
  } catch {
    return undefined;
  }
}

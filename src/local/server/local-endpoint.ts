import type { IncomingMessage, ServerResponse } from 'node:http';
import { z } from 'zod';
import type { ChangeFeed, Context } from '../context.js';
import { parsedJson } from '../json.js';
import { RefusedAction } from '../refusals.js';
import { fileBytes, findFile } from '../state/files.js';
import { readBody, safeHeaders, send, sendJson } from './http.js';
import { localRoutes } from './local-routes.js';

const LARGEST_BODY = 8_000_000;

/** Answers one request under /local/. */
export async function answerLocal(
  ctx: Context,
  request: IncomingMessage,
  response: ServerResponse,
  url: URL,
): Promise<void> {
  const method = request.method ?? 'GET';
  if (method === 'GET' && url.pathname === '/local/stream') {
    streamChanges(response, ctx.changes);
    return;
  }
  if (method === 'GET' && url.pathname.startsWith('/local/files/')) {
    sendFile(ctx, response, url.pathname.slice('/local/files/'.length));
    return;
  }
  const [name, id, ...more] = url.pathname.slice('/local/'.length).split('/');
  const route = localRoutes.get(`${method} /local/${name}${id === undefined ? '' : '/:id'}`);
  if (route === undefined || more.length > 0)
    throw new RefusedAction('not_found', `There is no ${method} ${url.pathname} here.`, 404);
  const input = method === 'GET' ? Object.fromEntries(url.searchParams) : await jsonBody(request);
  sendJson(response, 200, await route(ctx, input, id ?? ''));
}

/** Only JSON is taken: a foreign page's plain form cannot send that type. */
async function jsonBody(request: IncomingMessage): Promise<unknown> {
  const body = (await readBody(request, LARGEST_BODY)).toString('utf8');
  if (body === '' && request.method === 'DELETE') return {};
  const type = request.headers['content-type']?.split(';')[0]?.trim();
  if (type !== 'application/json') {
    throw new RefusedAction('not_json', 'Send the body as content-type: application/json.', 415);
  }
  const parsed = body === '' ? {} : parsedJson(body, z.json());
  if (parsed === undefined) throw new RefusedAction('not_json', 'The body is not JSON.');
  return parsed;
}

const SHOWN = new Set(['image/png', 'image/jpeg', 'image/gif']);

/** Pictures are shown; anything else is only to be saved, never run. */
function sendFile(ctx: Context, response: ServerResponse, id: string): void {
  const file = findFile(ctx.db, id);
  const bytes = fileBytes(ctx.db, id);
  if (file === undefined || bytes === null)
    throw new RefusedAction('file_not_found', `There is no file ${id}.`, 404);
  const kind = SHOWN.has(file.mimetype) ? 'inline' : 'attachment';
  const name = encodeURIComponent(file.name).replaceAll("'", '%27');
  send(response, 200, file.mimetype, bytes, {
    'content-disposition': `${kind}; filename*=UTF-8''${name}`,
  });
}

const HEARTBEAT_MS = 15_000;

/** Keeps telling one page of changes, as server-sent events, until it goes away. */
function streamChanges(response: ServerResponse, changes: ChangeFeed): void {
  response.writeHead(200, { ...safeHeaders, 'content-type': 'text/event-stream' });
  response.write('retry: 1000\n\n');
  const unsubscribe = changes.subscribe((change) => {
    response.write(`event: change\ndata: ${JSON.stringify(change)}\n\n`);
  });
  const heartbeat = setInterval(() => response.write(': still here\n\n'), HEARTBEAT_MS);
  heartbeat.unref();
  response.on('close', () => {
    clearInterval(heartbeat);
    unsubscribe();
  });
}

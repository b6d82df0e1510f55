import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import type { Context } from '../context.js';
import { RefusedAction } from '../refusals.js';
import { isOurs, sendJson } from './http.js';
import { answerLocal } from './local-endpoint.js';
import { answerResponse } from './response-endpoint.js';
import { servePage } from './static-files.js';
import { answerUpload } from './upload-endpoint.js';
import { answerCall } from './web-api-endpoint.js';

/** The loopback server: people's API, Slack's API, and the page. */
export function workspaceServer(ctx: Context, pageFolder: string | undefined): Server {
  const server = createServer((request, response) => {
    answer(ctx, pageFolder, portOf(server), request, response).catch((error: unknown) =>
      explain(response, error),
    );
  });
  server.headersTimeout = 20_000;
  server.requestTimeout = 60_000;
  // Longer than clients keep an idle connection, so that none is used again just as it is closed.
  server.keepAliveTimeout = 65_000;
  return server;
}

/** The port the server listens on; 0 before it does. */
export function portOf(server: Server): number {
  const address: AddressInfo | string | null = server.address();
  return typeof address === 'object' && address !== null ? address.port : 0;
}

async function answer(
  ctx: Context,
  pageFolder: string | undefined,
  port: number,
  request: IncomingMessage,
  response: ServerResponse,
): Promise<void> {
  if (!isOurs(request, port)) {
    throw new RefusedAction(
      'foreign_request',
      'This workspace answers only this machine and its own page.',
      403,
    );
  }
  const base = `http://127.0.0.1:${port}`;
  if (!URL.canParse(request.url ?? '/', base)) throw new RefusedAction('bad_address', 'That is no address.');
  const url = new URL(request.url ?? '/', base);
  const isPost = request.method === 'POST';
  if (url.pathname.startsWith('/local/')) return answerLocal(ctx, request, response, url);
  if (url.pathname.startsWith('/api/')) return answerCall(ctx, request, response, url);
  if (isPost && url.pathname.startsWith('/response/')) return answerResponse(ctx, request, response, url);
  if (isPost && url.pathname.startsWith('/upload/')) return answerUpload(ctx, request, response, url);
  if (request.method !== 'GET')
    throw new RefusedAction('not_found', `There is nothing at ${url.pathname}.`, 404);
  return servePage(response, pageFolder, url.pathname);
}

function explain(response: ServerResponse, error: unknown): void {
  if (error instanceof RefusedAction) {
    // A body that is too long is not read to its end: the connection cannot be used again.
    const headers = error.status === 413 ? { connection: 'close' } : {};
    sendJson(response, error.status, { error: error.code, message: error.message }, headers);
    return;
  }
  const message = error instanceof Error ? (error.stack ?? error.message) : String(error);
  sendJson(response, 500, { error: 'workspace_broke', message });
}

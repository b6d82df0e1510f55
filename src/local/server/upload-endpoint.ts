import type { IncomingMessage, ServerResponse } from 'node:http';
import type { Context } from '../context.js';
import { findFileByUploadKey, storeBytes } from '../state/files.js';
import { readBody, send } from './http.js';

const LARGEST_BODY = 21_000_000;

/** Takes the bytes of a promised file, as a multipart form or plain. */
export async function answerUpload(
  ctx: Context,
  request: IncomingMessage,
  response: ServerResponse,
  url: URL,
): Promise<void> {
  const body = await readBody(request, LARGEST_BODY);
  const file = findFileByUploadKey(ctx.db, url.pathname.slice('/upload/'.length));
  if (file === undefined || file.state !== 'promised') {
    send(response, 404, 'text/plain', 'upload not found');
    return;
  }
  const bytes = await bytesOf(request.headers['content-type'] ?? '', body);
  if (bytes === undefined || bytes.length === 0) {
    send(response, 400, 'text/plain', 'no file in the body');
    return;
  }
  storeBytes(ctx.db, file.id, bytes);
  send(response, 200, 'text/plain', `OK - ${bytes.length}`);
}

async function bytesOf(contentType: string, body: Buffer): Promise<Buffer | undefined> {
  if (!contentType.startsWith('multipart/form-data')) return body;
  try {
    const form = await new Response(new Uint8Array(body), {
      headers: { 'content-type': contentType },
    }).formData();
    for (const part of form.values()) {
      if (typeof part !== 'string') return Buffer.from(await part.arrayBuffer());
    }
    return undefined;
  } catch {
    return undefined;
  }
}

/** What every endpoint does with a request and a response. */
import type { IncomingMessage, ServerResponse } from 'node:http';
import { RefusedAction } from '../refusals.js';

/** Sent with everything: no script but our own, no framing, no guessing of types, nothing kept. */
export const safeHeaders = {
  'content-security-policy':
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; " +
    "font-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'no-referrer',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
  'cache-control': 'no-store',
} as const;

export function sendJson(
  response: ServerResponse,
  status: number,
  body: unknown,
  headers: Readonly<Record<string, string>> = {},
): void {
  send(response, status, 'application/json; charset=utf-8', JSON.stringify(body), headers);
}

export function send(
  response: ServerResponse,
  status: number,
  contentType: string,
  body: string | Buffer,
  headers: Readonly<Record<string, string>> = {},
): void {
  if (response.headersSent || response.destroyed) return;
  response.writeHead(status, { ...safeHeaders, 'content-type': contentType, ...headers });
  response.end(body);
}

/** The whole body, refused once it is longer than `most` bytes. */
export async function readBody(request: IncomingMessage, most: number): Promise<Buffer> {
  const chunks: Buffer[] = [];
  let size = 0;
  for await (const chunk of request) {
    const bytes = Buffer.from(chunk);
    size += bytes.length;
    if (size > most) {
      throw new RefusedAction('body_too_large', `A body may hold ${most} bytes here.`, 413);
    }
    chunks.push(bytes);
  }
  return Buffer.concat(chunks);
}

/**
 * Whether a request comes from this machine's own page or a plain client: the Host must be ours (which
 * stops a foreign name that resolves to this address) and a browser's Origin must be ours as well.
 */
export function isOurs(request: IncomingMessage, port: number): boolean {
  const hosts = new Set([`127.0.0.1:${port}`, `localhost:${port}`]);
  const { host, origin } = request.headers;
  if (host === undefined || !hosts.has(host.toLowerCase())) return false;
  if (origin !== undefined && ![...hosts].some((ours) => origin === `http://${ours}`)) return false;
  const site = request.headers['sec-fetch-site'];
  return site === undefined || site === 'same-origin' || site === 'none';
}

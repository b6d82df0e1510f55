import type { ServerResponse } from 'node:http';

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

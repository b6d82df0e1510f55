import type { IncomingMessage } from 'node:http';

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

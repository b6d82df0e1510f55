import { Agent as HttpAgent, request as httpRequest, type IncomingMessage } from 'node:http';
import { Agent as HttpsAgent, request as httpsRequest } from 'node:https';
import type { FetchFunction } from '@slack/web-api';

/*
 * Calls of the Web API and of response URLs over Node's own HTTP client: requests and answers are short texts, and Node's `fetch`
 * takes twice as long over them, on the thread that Slack's requests wait for.
 */

type Init = NonNullable<Parameters<FetchFunction>[1]>;
type Answer = Awaited<ReturnType<FetchFunction>>;

/** Kept connections save a handshake; an idle one is closed here, before Slack does it just as it is used again. */
const KEPT = { keepAlive: true, timeout: 4000 };
const http = new HttpAgent(KEPT);
const https = new HttpsAgent(KEPT);

/** As `fetch`, without redirects; a body that is no text goes through `fetch` itself. */
export const plainFetch: FetchFunction = async (url, init = {}) =>
  typeof init.body === 'string' ? send(new URL(url), init.body, init) : fetch(url, init);

function send(url: URL, body: string, { method = 'GET', headers, signal }: Init): Promise<Answer> {
  const isSecure = url.protocol === 'https:';
  const options = {
    agent: isSecure ? https : http,
    method,
    headers: { ...headers, 'content-length': String(Buffer.byteLength(body)) },
    ...(signal ? { signal } : {}),
  };
  return new Promise((resolve, reject) => {
    const outgoing = (isSecure ? httpsRequest : httpRequest)(url, options, (incoming) => {
      const pieces: Buffer[] = [];
      incoming.on('data', (piece: Buffer) => pieces.push(piece));
      incoming.once('end', () => resolve(answerOf(url, incoming, Buffer.concat(pieces))));
      // An answer cut short is as good as none.
      incoming.once('error', reject);
    });
    outgoing.once('error', reject);
    outgoing.end(body);
  });
}

function answerOf(url: URL, incoming: IncomingMessage, body: Buffer): Answer {
  const { statusCode: status = 0, statusMessage: statusText = '' } = incoming;
  const headers = Object.entries(incoming.headers).map(([name, value]): [string, string] => [
    name,
    [value ?? ''].flat().join(', '),
  ]);
  const found = new Map(headers);
  return {
    ok: status >= 200 && status < 300,
    status,
    statusText,
    url: url.href,
    headers: { get: (name) => found.get(name.toLowerCase()) ?? null, entries: () => found.entries() },
    text: async () => body.toString('utf8'),
    json: async () => JSON.parse(body.toString('utf8')),
    arrayBuffer: async () => new Uint8Array(body).buffer,
  };
}

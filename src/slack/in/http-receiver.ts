import type { IncomingMessage, Server, ServerResponse } from 'node:http';
import { HTTPReceiver, type HTTPReceiverOptions, type Receiver } from '@slack/bolt';
import type { Log } from '../../runtime/log.js';
import { boltLogger } from '../out/web-api.js';
import { CardStillInFlight } from './event-listener.js';

export type HttpOptions = {
  readonly signingSecret: string;
  readonly port: number;
  readonly host: string;
  readonly log: Log;
  /** What is answered beside Slack's requests (health). */
  readonly routes: NonNullable<HTTPReceiverOptions['customRoutes']>;
};

const SLACK_PATH = '/slack/events';
const BODY_LIMIT = 1024 * 1024;

/**
 * Bolt's receiver over HTTP, which checks signatures, finds the listener and answers when it is done. Before it
 * are kept out what Bolt would let in: bodies that are not an object (a signed `null` ends the process under
 * Bolt 5.1.0), requests signed in the future, and commands, taps and forms sent a second time.
 */
export function createHttpReceiver(options: HttpOptions): Receiver & { url(): string } {
  const { log, port, host } = options;
  let server: Server | undefined;
  const bolt = new HTTPReceiver({
    signingSecret: options.signingSecret,
    endpoints: [SLACK_PATH],
    customRoutes: options.routes,
    processBeforeResponse: true,
    logger: boltLogger(log),
    dispatchErrorHandler: ({ response }) => refuse(response, 404),
    processEventErrorHandler: async ({ error, response }) => {
      if (!(error instanceof CardStillInFlight)) log.error({ err: error }, 'a request failed');
      refuse(response, 500);
      return false;
    },
  });
  const toBolt = bolt.requestListener;
  const isRepeated = createReplayGuard();

  /** Looks at what is sent, wherever to; Bolt finds out whether it is for it. */
  async function guard(request: IncomingMessage, response: ServerResponse): Promise<void> {
    const rawBody = await readBody(request);
    if (rawBody === null) return refuse(response, 413);
    if (!isObjectBody(request, rawBody)) return refuse(response, 400);
    if (Number(request.headers['x-slack-request-timestamp']) > Date.now() / 1000 + WINDOW_S)
      return refuse(response, 401);
    if (isForm(request) && isRepeated(request)) return refuse(response, 401);
    toBolt(Object.assign(request, { rawBody }), response);
  }

  bolt.requestListener = (request, response) => {
    if (request.method !== 'POST') return toBolt(request, response);
    guard(request, response).catch(() => refuse(response, 404));
  };

  return {
    init: (app) => bolt.init(app),
    start: async () => {
      // Longer than a proxy keeps an idle connection, so that none is used again just as it is closed.
      server = await bolt.start({ port, host }, { keepAliveTimeout: 65_000 });
      return server;
    },
    stop: () => {
      // Bolt has answered by then or never will; a hanging peer must not hold the process up.
      setTimeout(() => server?.closeAllConnections(), 3000).unref();
      return bolt.stop();
    },
    url: () => {
      const address = server?.address();
      const bound = typeof address === 'object' && address !== null ? address.port : port;
      return `http://${host}:${bound}${SLACK_PATH}`;
    },
  };
}

function refuse(response: ServerResponse, status: number): void {
  if (response.headersSent) return;
  response.writeHead(status, status === 413 ? { connection: 'close' } : {}).end();
}

/** The request's bytes, or null when there are too many. */
async function readBody(request: IncomingMessage): Promise<Buffer | null> {
  const chunks: Buffer[] = [];
  let size = 0;
  for await (const chunk of request) {
    const bytes = Buffer.from(chunk);
    size += bytes.length;
    if (size > BODY_LIMIT) return null;
    chunks.push(bytes);
  }
  return Buffer.concat(chunks);
}

function isForm({ headers }: IncomingMessage): boolean {
  return headers['content-type'] === 'application/x-www-form-urlencoded';
}

function isObjectBody(request: IncomingMessage, rawBody: Buffer): boolean {
  const body = rawBody.toString();
  const jsons = isForm(request) ? new URLSearchParams(body).getAll('payload') : [body];
  return jsons.every((json) => json.trimStart().startsWith('{'));
}

/** Slack signs the time, and five minutes is its window; Bolt refuses older requests only. */
const WINDOW_S = 300;
const REMEMBERED = 20_000;

/** Remembers signatures for as long as Bolt takes them. Events may repeat: they are known by their id. */
function createReplayGuard(): (request: IncomingMessage) => boolean {
  const seen = new Map<string, number>();
  return ({ headers }) => {
    const signature = headers['x-slack-signature'];
    if (typeof signature !== 'string') return false;
    if (seen.has(signature)) return true;
    seen.set(signature, Number(headers['x-slack-request-timestamp']));
    // Signatures are in the order of arrival, which is near enough the order of signing.
    for (const [old, signedAt] of seen) {
      if (signedAt >= Date.now() / 1000 - WINDOW_S && seen.size <= REMEMBERED) break;
      seen.delete(old);
    }
    return false;
  };
}

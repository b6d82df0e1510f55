import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import { type App, HTTPReceiver, type Receiver } from '@slack/bolt';
import type { Log } from '../runtime/log.js';
import { boltLogger } from './bolt-logger.js';
import { CardStillInFlight } from './card-in-flight.js';
import { readBody } from './read-body.js';
import { createReplayGuard } from './replay-guard.js';
import type { RightOfWay } from './right-of-way.js';

export type HttpOptions = {
  readonly signingSecret: string;
  readonly port: number;
  readonly host: string;
  readonly log: Log;
  readonly rightOfWay: RightOfWay;
  /** Answers what is not Slack's (health); false when the path is not its own. */
  readonly other: (request: IncomingMessage, response: ServerResponse) => Promise<boolean>;
};

const SLACK_PATH = '/slack/events';
const BODY_LIMIT = 1024 * 1024;

export type HttpDoor = Receiver & { url(): string };

/**
 * Slack's requests over HTTP. Bolt checks the signature and finds the listener; before it, here, are kept
 * out: bodies too large, bodies that are not an object (a signed `null` would end the process), requests
 * from the future and commands sent a second time.
 */
export function createHttpReceiver(options: HttpOptions): HttpDoor {
  const { log } = options;
  const bolt = new HTTPReceiver({
    signingSecret: options.signingSecret,
    processBeforeResponse: true,
    endpoints: [SLACK_PATH],
    logger: boltLogger(log),
    bodyLimit: BODY_LIMIT,
    processEventErrorHandler: async ({ error, response }) => {
      if (!(error instanceof CardStillInFlight)) log.error({ err: error }, 'a request was answered with 500');
      if (!response.headersSent) refuse(response, 500);
      return false;
    },
  });
  const replays = createReplayGuard();
  let server: Server | undefined;

  async function serve(request: IncomingMessage, response: ServerResponse): Promise<void> {
    if (await options.other(request, response)) return;
    if (request.method !== 'POST' || request.url?.split('?')[0] !== SLACK_PATH) return refuse(response, 404);
    const rawBody = await readBody(request, BODY_LIMIT);
    if (rawBody === null) return refuse(response, 413);
    if (!isObjectBody(request, rawBody)) return refuse(response, 400);
    if (!replays.isFresh(request, rawBody)) return refuse(response, 401);
    bolt.requestListener(Object.assign(request, { rawBody }), response);
  }

  return {
    init: (app: App) => bolt.init(app),
    start: () =>
      new Promise((resolve, reject) => {
        const started = createServer((request, response) => {
          response.once('close', options.rightOfWay.answering());
          serve(request, response).catch((error: unknown) => {
            log.warn({ err: error }, 'a request could not be served');
            if (!response.headersSent) refuse(response, 500);
          });
        });
        // Longer than a proxy keeps an idle connection, so that none is used again just as it is closed.
        started.keepAliveTimeout = 65_000;
        started.on('error', reject);
        started.listen({ port: options.port, host: options.host }, () => resolve(started));
        server = started;
      }),
    stop: () =>
      new Promise((resolve) => {
        if (!server) return resolve(undefined);
        server.close(() => resolve(undefined));
        server.closeIdleConnections();
        // Bolt has answered by now or never will; an idle or hanging peer must not hold the process up.
        setTimeout(() => server?.closeAllConnections(), 3000).unref();
      }),
    url: () => {
      const address = server?.address();
      const port = typeof address === 'object' && address !== null ? address.port : options.port;
      return `http://${options.host}:${port}${SLACK_PATH}`;
    },
  };
}

function refuse(response: ServerResponse, status: number): void {
  response.writeHead(status, status === 413 ? { connection: 'close' } : {}).end();
}

function isObjectBody(request: IncomingMessage, rawBody: Buffer): boolean {
  const type = request.headers['content-type'] ?? '';
  if (type !== 'application/x-www-form-urlencoded') return startsObject(rawBody.toString());
  if (!rawBody.includes('payload=')) return true;
  const payloads = new URLSearchParams(rawBody.toString()).getAll('payload');
  return payloads.every(startsObject);
}

function startsObject(json: string): boolean {
  return json.trimStart().startsWith('{');
}

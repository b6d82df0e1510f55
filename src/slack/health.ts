import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import { waitingEvents } from '../store/inbox.js';
import { countNotices } from '../store/notices.js';
import { type OpenDatabase, tryToWrite } from '../store/sqlite/open.js';
import { readFailure } from './call-outcome.js';
import type { House } from './house.js';
import type { Loop } from './loop.js';

/** Longer than any turn should take; a loop still in one is stuck. */
const STUCK_MS = 60_000;
/** Slack is asked at most this often, however often readiness is. */
const ASK_SLACK_MS = 15_000;

export type Health = {
  /** Answers /healthz and /readyz; false for any other path. */
  answer(request: IncomingMessage, response: ServerResponse): Promise<boolean>;
  /** What keeps the bot from being ready; empty when it is. */
  troubles(): Promise<readonly string[]>;
};

/** Alive is answering at all; ready is a database that takes writes, a Slack that answers and loops that turn. */
export function createHealth(house: House, open: OpenDatabase, loops: ReadonlyMap<string, Loop>): Health {
  let asked = { at: 0, trouble: '' };

  async function slackTrouble(): Promise<string> {
    if (Date.now() - asked.at < ASK_SLACK_MS) return asked.trouble;
    try {
      await house.web.auth.test();
      asked = { at: Date.now(), trouble: '' };
    } catch (error) {
      asked = { at: Date.now(), trouble: `Slack does not answer: ${readFailure(error).error}` };
    }
    return asked.trouble;
  }

  async function troubles(): Promise<readonly string[]> {
    const stuck = [...loops]
      .filter(([, { since }]) => since !== null && Date.now() - since.getTime() > STUCK_MS)
      .map(([name]) => `the ${name} has been at one thing for over a minute`);
    return [databaseTrouble(open), await slackTrouble(), ...stuck].filter((trouble) => trouble !== '');
  }

  return {
    troubles,
    async answer(request, response) {
      const path = request.url?.split('?')[0];
      if (request.method !== 'GET' || (path !== '/healthz' && path !== '/readyz')) return false;
      const found = path === '/healthz' ? [] : await troubles();
      const body = { ok: found.length === 0, troubles: found };
      response.writeHead(body.ok ? 200 : 503, { 'content-type': 'application/json' });
      response.end(JSON.stringify(body));
      return true;
    },
  };
}

function databaseTrouble({ sqlite }: OpenDatabase): string {
  if (sqlite.inTransaction) return '';
  try {
    tryToWrite(sqlite);
    return '';
  } catch (error) {
    return `the database takes no writes: ${error instanceof Error ? error.message : String(error)}`;
  }
}

/** Counters in the Prometheus text format, and health, for this machine only. */
export async function serveMetrics(
  house: House,
  health: Health,
  port: number,
): Promise<{ readonly url: string; close(): Promise<void> }> {
  const server = createServer((request, response) => {
    respond(request, response).catch(() => response.writeHead(500).end());
  });
  async function respond(request: IncomingMessage, response: ServerResponse): Promise<void> {
    if (await health.answer(request, response)) return;
    if (request.method !== 'GET' || request.url !== '/metrics') {
      response.writeHead(404).end();
      return;
    }
    house.counters.waiting.set((await waitingEvents(house.deps.db)).count);
    house.counters.differing.set((await countNotices(house.deps.db)).differing);
    response.writeHead(200, { 'content-type': house.counters.registry.contentType });
    response.end(await house.counters.registry.metrics());
  }
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject);
    server.listen({ port, host: '127.0.0.1' }, resolve);
  });
  const address = server.address();
  const bound = typeof address === 'object' && address !== null ? address.port : port;
  return {
    url: `http://127.0.0.1:${bound}`,
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}

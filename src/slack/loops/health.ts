import { once } from 'node:events';
import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import { waitingEvents } from '../../store/inbox.js';
import { countDiffering } from '../../store/notices.js';
import { type OpenDatabase, tryToWrite } from '../../store/sqlite/open.js';
import type { Loop } from '../loop.js';
import { readFailure } from '../out/call-failure.js';
import type { Runtime } from '../runtime.js';

/** Longer than any turn should take; a loop still in one is stuck. */
const STUCK_MS = 60_000;
/** Slack is asked at most this often, however often readiness is. */
const ASK_SLACK_MS = 15_000;

export type Health = ReturnType<typeof createHealth>;

/** Alive is answering at all; ready is a database that takes writes, a Slack that answers and loops that turn. */
export function createHealth({ web }: Runtime, open: OpenDatabase, loops: ReadonlyMap<string, Loop>) {
  let asked = { at: 0, trouble: '' };

  async function slackTrouble(): Promise<string> {
    if (Date.now() - asked.at < ASK_SLACK_MS) return asked.trouble;
    const trouble = await web.auth.test().then(
      () => '',
      (error: unknown) => `Slack does not answer: ${readFailure(error).error}`,
    );
    asked = { at: Date.now(), trouble };
    return trouble;
  }

  /** What keeps the bot from being ready; empty when it is. */
  async function troubles(): Promise<readonly string[]> {
    const stuck = [...loops]
      .filter(([, { since }]) => since !== null && Date.now() - since.getTime() > STUCK_MS)
      .map(([name]) => `the ${name} has been at one thing for over a minute`);
    return [databaseTrouble(open), await slackTrouble(), ...stuck].filter((trouble) => trouble !== '');
  }

  /** What is asked of the bot by its path, and what answers it. */
  const route = (path: string, found: () => Promise<readonly string[]>) => ({
    path,
    method: 'GET',
    handler: async (_: IncomingMessage, response: ServerResponse) => {
      const said = await found();
      response.writeHead(said.length === 0 ? 200 : 503, { 'content-type': 'application/json' });
      response.end(JSON.stringify({ ok: said.length === 0, troubles: said }));
    },
  });
  return { troubles, routes: [route('/healthz', async () => []), route('/readyz', troubles)] };
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
  { counters, deps }: Runtime,
  { routes }: Health,
  port: number,
): Promise<{ readonly url: string; close(): Promise<void> }> {
  async function respond(response: ServerResponse): Promise<void> {
    counters.waiting.set((await waitingEvents(deps.db)).count);
    counters.differing.set(await countDiffering(deps.db));
    response.writeHead(200, { 'content-type': counters.registry.contentType });
    response.end(await counters.registry.metrics());
  }
  const server = createServer((request, response) => {
    const path = request.method === 'GET' ? request.url?.split('?')[0] : undefined;
    const route = routes.find((one) => one.path === path);
    if (route) route.handler(request, response);
    else if (path === '/metrics') respond(response).catch(() => response.writeHead(500).end());
    else response.writeHead(404).end();
  });
  await once(server.listen({ port, host: '127.0.0.1' }), 'listening');
  const address = server.address();
  const bound = typeof address === 'object' && address !== null ? address.port : port;
  return {
    url: `http://127.0.0.1:${bound}`,
    close: async () => {
      const closed = once(server, 'close');
      server.close().closeAllConnections();
      await closed;
    },
  };
}

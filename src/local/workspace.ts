/**
 * The local workspace: a loopback server that plays Slack's side, so that the bot can be lived with,
 * shown and tested through the door that Slack uses. It knows nothing of the bot.
 */
import { once, setMaxListeners } from 'node:events';
import { activity } from './activity.js';
import { movableClock, timestampSource } from './clock.js';
import { type Context, changeFeed } from './context.js';
import { eventCourier } from './deliver/event-courier.js';
import { defaultEvents } from './deliver/events.js';
import { httpTransport, presenceCheck } from './deliver/http.js';
import { postman } from './deliver/postman.js';
import type { Transport } from './deliver/transport.js';
import { triggers } from './deliver/triggers.js';
import { noFaults } from './faults.js';
import { loadIdentity } from './identity.js';
import { emptyWorkspace, type Scenario, seedScenario } from './scenario.js';
import { portOf, workspaceServer } from './server/server.js';
import { type Db, openDatabase, run } from './state/database.js';
import { allPeople } from './state/people.js';
import { defaultScopes } from './web-api/table.js';

export type WorkspaceOptions = {
  readonly scenario: Scenario;
  /** 0 or nothing: any free port. */
  readonly port?: number;
  /** ":memory:" or nothing: gone when closed. */
  readonly databaseFile?: string;
  /** Starts over with the scenario, with new ids and secrets. */
  readonly fresh?: boolean;
  /** What time is before it is moved on; real time by default. */
  readonly clock?: { now(): Date };
  /** Where the moved clock is offered to a bot in another process, as `{"offsetMs":…}`. */
  readonly clockFile?: string;
  /** Where the page's files are; none is served without it. */
  readonly pageDirectory?: string;
  readonly scopes?: readonly string[];
  readonly subscriptions?: readonly string[];
  readonly shouldEscape?: boolean;
  /** How long an answer may take: Slack's three seconds. */
  readonly ackTimeoutMs?: number;
  /** How long a trigger id lives: Slack's three seconds. */
  readonly triggerLifeMs?: number;
  /** How long after the answer an uploaded file is shared. */
  readonly shareDelayMs?: number;
  /** Reaches the bot in another way than signed HTTP (Socket Mode). */
  readonly transport?: Transport;
};

export type Workspace = {
  readonly url: string;
  /** Base of the Web API, with its slash at the end. */
  readonly apiUrl: string;
  readonly signingSecret: string;
  readonly botToken: string;
  readonly appToken: string;
  readonly teamId: string;
  readonly botUserId: string;
  readonly botId: string;
  readonly clock: { now(): Date; onMove(listener: () => void): () => void };
  /** Tells where the bot listens, now or again after it has moved. */
  readonly connectBot: (requestUrl: string) => void;
  readonly close: () => Promise<void>;
};

/** Opens the workspace and starts to listen on 127.0.0.1. */
export async function startWorkspace(options: WorkspaceOptions): Promise<Workspace> {
  const db = openDatabase(options.databaseFile ?? ':memory:');
  const identity = prepare(db, options);
  const clock = movableClock(db, options.clock ?? { now: () => new Date() }, options.clockFile);
  const changes = changeFeed();
  const faults = noFaults();
  let requestUrl: string | undefined;
  const closing = new AbortController();
  setMaxListeners(0, closing.signal);
  const work = activity();
  const transport =
    options.transport ?? httpTransport(identity.signingSecret, () => requestUrl, closing.signal);
  const post = postman({
    db,
    faults,
    transport,
    now: clock.now,
    ackTimeoutMs: options.ackTimeoutMs ?? 3_000,
    closing: closing.signal,
    onPresence: () => changes.publish({ kind: 'people' }),
  });
  const events = eventCourier({ db, clock, faults, postman: post, activity: work });
  let url = '';
  const ctx: Context = {
    db,
    clock,
    identity,
    changes,
    faults,
    newTs: timestampSource(db, clock),
    events,
    postman: post,
    triggers: triggers(faults, options.triggerLifeMs),
    activity: work,
    scopes: new Set(options.scopes ?? defaultScopes),
    subscriptions: new Set(options.subscriptions ?? defaultEvents),
    shouldEscape: options.shouldEscape ?? true,
    shareDelayMs: options.shareDelayMs ?? 25,
    url: () => url,
    socketUrl: transport.socketUrl,
    startOver: () => startOver(db, options.scenario),
  };
  const server = workspaceServer(ctx, options.pageDirectory);
  server.listen({ port: options.port ?? 0, host: '127.0.0.1' });
  await once(server, 'listening');
  url = `http://127.0.0.1:${portOf(server)}`;
  const presence = presenceCheck(identity, () => requestUrl, post);
  events.wake();
  return {
    url,
    apiUrl: `${url}/api/`,
    signingSecret: identity.signingSecret,
    botToken: identity.botToken,
    appToken: identity.appToken,
    teamId: identity.teamId,
    botUserId: identity.botUserId,
    botId: identity.botId,
    clock: { now: clock.now, onMove: clock.onMove },
    connectBot: (address) => {
      requestUrl = address;
      presence.again();
    },
    close: async () => {
      presence.stop();
      events.stop();
      closing.abort();
      const closed = once(server, 'close');
      server.close();
      server.closeAllConnections();
      await closed;
      await work.idle();
      db.close();
    },
  };
}

function prepare(db: Db, options: WorkspaceOptions): ReturnType<typeof loadIdentity> {
  return db.transaction(() => {
    if (options.fresh === true) {
      emptyWorkspace(db);
      run(db, 'delete from fact');
    }
    if (allPeople(db).length === 0) seedScenario(db, options.scenario);
    return loadIdentity(db, options.scenario);
  })();
}

function startOver(db: Db, scenario: Scenario): void {
  db.transaction(() => {
    emptyWorkspace(db);
    seedScenario(db, scenario);
  })();
}

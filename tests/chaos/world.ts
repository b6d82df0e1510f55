import { setMaxListeners } from 'node:events';
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { seedScenario } from '../../src/app/seed.js';
import { httpTransport } from '../../src/local/deliver/http.js';
import type { Transport } from '../../src/local/deliver/transport.js';
import { personClient } from '../../src/local/person-client.js';
import { fernhollow, type Scenario } from '../../src/local/scenario.js';
import { startWorkspace, type Workspace } from '../../src/local/workspace.js';
import { createLog } from '../../src/runtime/log.js';
import { openDatabase } from '../../src/store/sqlite/open.js';
import type { Environment } from './bot-process.js';
import { type Expected, nothingYet } from './expected.js';
import { knownThreads, lostAtAck } from './lost-after-ack.js';
import { createPhases, type Phases } from './phases.js';
import { type Acknowledged, watched } from './watched-transport.js';

/** Runs one piece of work after another. */
type Queue = <T>(work: () => Promise<T>) => Promise<T>;

function createQueue(): Queue {
  let last: Promise<unknown> = Promise.resolve();
  return (work) => {
    const mine = last.then(work);
    last = mine.catch(() => {});
    return mine;
  };
}

/** Where a run takes place: the workspace in this process, the bot's files in a folder, and what is expected. */
export type World = {
  readonly seed: number;
  readonly folder: string;
  /** The bot's database. */
  readonly database: string;
  /** The workspace's own. */
  readonly slack: string;
  readonly log: string;
  readonly workspace: Workspace;
  readonly client: ReturnType<typeof personClient>;
  readonly channel: string;
  /** A channel without tables. */
  readonly elsewhere: string;
  readonly id: (name: string) => string;
  readonly phases: Phases;
  readonly expected: Expected;
  /** What was acknowledged in this life of the bot. */
  readonly acknowledged: Acknowledged[];
  /** What was wrong at the moment of an acknowledgement. */
  readonly lostAtAck: string[];
  /** What may not happen at the same time: writing notes, moving the clock, closing the table. */
  readonly quietly: Queue;
  readonly environment: Environment;
  /** How many events were acknowledged. */
  events: number;
  /** Called with every acknowledgement, at that very moment. */
  onAcknowledged: () => void;
  /** Called just before the clock is moved to where reminders are due. */
  beforeReminders: () => void;
  /** The clock before it was last moved by days, and when that was, in milliseconds of this process. */
  movedFrom: { readonly clock: Date; readonly at: number } | null;
  /** The bot listens, and its end is not there yet. */
  isUp: boolean;
  readonly close: () => Promise<void>;
};

/** Wednesday 4 November 2026, ten in the morning in Lisbon. */
const START = Date.UTC(2026, 10, 4, 10);
const WITH_BREAK_ROOM: Scenario = {
  ...fernhollow,
  channels: [
    ...fernhollow.channels,
    { name: 'break-room', kind: 'channel', members: fernhollow.people.map(({ name }) => name) },
  ],
};

/** Opens a workspace and sets up the demo's roastery in a new database. */
export async function openWorld(seed: number): Promise<World> {
  const folder = mkdtempSync(join(tmpdir(), `tallyspoon-chaos-${seed}-`));
  const file = (name: string) => join(folder, name);
  const phases = createPhases();
  const acknowledged: Acknowledged[] = [];
  let botUrl: string | undefined;
  let world: World | undefined;
  let wire: Transport | undefined;
  let threads: ReadonlySet<string> = new Set();
  const closing = new AbortController();
  setMaxListeners(0, closing.signal);
  const began = Date.now();
  const workspace = await startWorkspace({
    scenario: WITH_BREAK_ROOM,
    databaseFile: file('slack.db'),
    clock: { now: () => new Date(START + Date.now() - began) },
    clockFile: file('clock.json'),
    transport: watched(
      () => {
        wire ??= httpTransport(workspace.signingSecret, () => botUrl, closing.signal);
        return wire;
      },
      () => threads,
      () => (world && earliestForBot(world)) ?? workspace.clock.now(),
      (one) => {
        if (world === undefined) return;
        acknowledged.push(one);
        world.events += 1;
        world.onAcknowledged();
        world.lostAtAck.push(...lostAtAck(world, one));
        threads = knownThreads(world);
      },
    ),
  });
  const client = personClient(workspace.url);
  const { people, channels } = await client.state();
  const ids = new Map(people.filter(({ isBot }) => !isBot).map(({ name, id }) => [name, id]));
  const channelId = (name: string) => channels.find((one) => one.name === name)?.id ?? '';
  await setUp(file('bot.db'), workspace, ids, channelId('tasting-table'), seed);
  world = {
    seed,
    folder,
    database: file('bot.db'),
    slack: file('slack.db'),
    log: file('bot.log'),
    workspace: {
      ...workspace,
      connectBot: (url) => {
        botUrl = url;
        workspace.connectBot(url);
      },
    },
    client,
    channel: channelId('tasting-table'),
    elsewhere: channelId('break-room'),
    id: (name) => ids.get(name) ?? name,
    phases,
    expected: nothingYet(),
    acknowledged,
    lostAtAck: [],
    events: 0,
    quietly: createQueue(),
    environment: {
      SLACK_BOT_TOKEN: workspace.botToken,
      SLACK_SIGNING_SECRET: workspace.signingSecret,
      SLACK_API_URL: workspace.apiUrl,
      TALLYSPOON_CLOCK_FILE: file('clock.json'),
      DATABASE: file('bot.db'),
      PORT: '0',
      LOG_LEVEL: 'info',
    },
    onAcknowledged: () => {},
    beforeReminders: () => {},
    movedFrom: null,
    isUp: false,
    close: async () => {
      closing.abort();
      await workspace.close();
    },
  };
  return world;
}

/** The bot notices a moved clock a little later, and may take what comes meanwhile for days old. */
const NOTICED_WITHIN_MS = 3_000;

/** The earliest that the bot may believe it is. */
function earliestForBot({ workspace, movedFrom }: World): Date {
  const isFresh = movedFrom !== null && performance.now() - movedFrom.at < NOTICED_WITHIN_MS;
  return isFresh ? movedFrom.clock : workspace.clock.now();
}

async function setUp(
  database: string,
  workspace: Workspace,
  people: ReadonlyMap<string, string>,
  channel: string,
  seed: number,
): Promise<void> {
  const open = await openDatabase(database);
  const deps = { db: open.db, clock: workspace.clock, log: createLog('silent'), newSeed: () => seed };
  await seedScenario(deps, workspace.teamId, people, channel);
  await open.close();
}

import { randomInt } from 'node:crypto';
import { mkdirSync } from 'node:fs';
import { dirname } from 'node:path';
import type { Receiver } from '@slack/bolt';
import type { Bot, Deps } from '../commands/common/bot.js';
import type { Clock } from '../runtime/clock.js';
import type { Log } from '../runtime/log.js';
import { createApp } from '../slack/app.js';
import { createCheckpoints } from '../slack/checkpoints.js';
import { createCounters } from '../slack/counters.js';
import { createFormPlaces } from '../slack/form-places.js';
import { createHealth, type Health, serveMetrics } from '../slack/health.js';
import type { House } from '../slack/house.js';
import { createHttpReceiver } from '../slack/http-receiver.js';
import { createInHand } from '../slack/in-hand.js';
import { introduce } from '../slack/introduce.js';
import { createKeeper } from '../slack/keeper.js';
import type { PictureDrawer, SheetDrawer, StoppedNotice } from '../slack/keeper-types.js';
import type { Loop } from '../slack/loop.js';
import { createNightlyBackup } from '../slack/nightly-backup.js';
import { createReminderLoop } from '../slack/reminder-loop.js';
import { rereadThread, rereadThreads } from '../slack/reread.js';
import { createRightOfWay, type RightOfWay } from '../slack/right-of-way.js';
import { isSettled } from '../slack/settled.js';
import { createSocketReceiver } from '../slack/socket-receiver.js';
import { createWeb } from '../slack/web.js';
import { createWorker } from '../slack/worker.js';
import { type OpenDatabase, openDatabase } from '../store/db.js';
import { createDurability } from '../store/durability.js';
import { createInbox, retrySetAside } from '../store/inbox.js';
import { lockDatabase } from '../store/lock.js';
import { reviveStopped } from '../store/notices.js';
import { threadOfNote } from '../store/thread-notes.js';
import type { Config, Connection } from './config.js';

export type BotOptions = {
  readonly config: Config & { readonly connection: Exclude<Connection, { readonly mode: 'local' }> };
  readonly clock: Clock;
  readonly log: Log;
  readonly bot: Bot;
  readonly drawPicture: PictureDrawer;
  readonly drawSheet: SheetDrawer;
  /** A notice was given up because Slack will not take it; called once for each. */
  readonly onStopped?: (deps: Deps, notice: StoppedNotice) => Promise<void>;
  readonly newSeed?: () => number;
  /** A message is updated at most this often; bursts become one update. */
  readonly updateGapMs?: number;
};

export type RunningBot = {
  /** Where Slack's requests go, in HTTP mode. */
  readonly url: string | null;
  readonly metricsUrl: string | null;
  readonly workspace: string;
  readonly deps: Deps;
  readonly house: House;
  readonly health: Health;
  /** Resolves true once nothing is left to do: events, notices, reminders, answers. */
  settled(timeoutMs?: number): Promise<boolean>;
  /** Takes nothing new in, finishes what is in hand (ten seconds at most) and closes the database. */
  stop(): Promise<void>;
};

const STOP_MS = 10_000;

/**
 * Starts the bot: locks and opens the database, asks Slack who it is, listens, and goes on where it stopped.
 *
 * @throws DatabaseProblem or StartProblem, each with one line saying what to do
 */
export async function startBot(options: BotOptions): Promise<RunningBot> {
  const { database } = options.config;
  if (database !== ':memory:') mkdirSync(dirname(database), { recursive: true });
  const lock = lockDatabase(database);
  let open: OpenDatabase | undefined;
  try {
    open = await openDatabase(database);
    return await startWith(options, open, lock.release);
  } catch (error) {
    await open?.close();
    lock.release();
    throw error;
  }
}

async function startWith(options: BotOptions, open: OpenDatabase, release: () => void): Promise<RunningBot> {
  const { config, clock, log, bot } = options;
  const { connection, slackApiUrl } = config;
  const { db } = open;
  const web = createWeb(connection.botToken, slackApiUrl, log);
  const me = await introduce(web, log);
  await retrySetAside(db);
  await reviveStopped(db, null, clock.now());

  const durability = createDurability(open);
  const loops = new Map<string, Loop>();
  const wake: House['wake'] = (only) => {
    for (const [name, loop] of loops)
      if (only === undefined || name === only || name === 'checkpoints') loop.wake();
  };
  const rightOfWay = createRightOfWay();
  const house: House = {
    bot,
    deps: { db, clock, log, newSeed: options.newSeed ?? (() => randomInt(2 ** 32)) },
    web,
    me,
    inbox: createInbox(open, durability),
    relaxed: durability.relaxed,
    inHand: createInHand(log),
    counters: createCounters(),
    formPlaces: createFormPlaces(),
    rightOfWay,
    wake,
    rowsWritten: rowsWritten(open),
  };
  const tools = {
    house,
    drawPicture: options.drawPicture,
    drawSheet: options.drawSheet,
    onStopped: async (notice: StoppedNotice) => {
      await options.onStopped?.(house.deps, notice);
      wake();
    },
    onFound: (channel: string, ts: string) => house.inHand.background(() => rereadThread(house, channel, ts)),
    onMissing: (channel: string, ts: string) =>
      house.inHand.background(async () => {
        const threadTs = await threadOfNote(db, me.workspace, channel, ts);
        return threadTs === null ? 0 : rereadThread(house, channel, threadTs);
      }),
  };
  loops.set('worker', createWorker(house));
  loops.set('checkpoints', createCheckpoints(house, open));
  loops.set('reminders', createReminderLoop(house));
  loops.set('keeper', createKeeper(tools, options.updateGapMs ?? 1000));

  if (config.backupDir !== null && config.database !== ':memory:')
    loops.set('backup', createNightlyBackup(house, config.database, config.backupDir));

  const health = createHealth(house, open, loops);
  const receiver = receiverFor(options, health, rightOfWay);
  const app = createApp(house, { receiver, botToken: connection.botToken, apiUrl: slackApiUrl });
  await app.start();
  const metrics = config.metricsPort === null ? null : await serveMetrics(house, health, config.metricsPort);
  const stopListening = clock.onMove(() => wake());
  wake();
  house.inHand.background(() => rereadThreads(house));

  let stopping: Promise<void> | undefined;
  async function stop(): Promise<void> {
    const until = Date.now() + STOP_MS;
    stopListening();
    await before(until, app.stop());
    await metrics?.close();
    await before(until, Promise.all([...loops.values()].map((loop) => loop.stop())));
    await before(until, house.inHand.idle());
    await open.close();
    release();
  }
  return {
    url: 'url' in receiver ? receiver.url() : null,
    metricsUrl: metrics?.url ?? null,
    workspace: me.workspace,
    deps: house.deps,
    house,
    health,
    settled: (timeoutMs = 10_000) => isSettled(house, loops, timeoutMs),
    stop: () => {
      stopping ??= stop();
      return stopping;
    },
  };
}

function rowsWritten({ sqlite }: OpenDatabase): () => number {
  const statement = sqlite.prepare<[], number>('select total_changes()').pluck();
  return () => statement.get() ?? 0;
}

function receiverFor(
  { config, log }: BotOptions,
  health: Health,
  rightOfWay: RightOfWay,
): Receiver & { url?(): string } {
  const { connection, slackApiUrl } = config;
  if (connection.mode === 'socket')
    return createSocketReceiver({ appToken: connection.appToken, apiUrl: slackApiUrl, log, rightOfWay });
  const { signingSecret, port, host } = connection;
  return createHttpReceiver({ signingSecret, port, host, log, rightOfWay, other: health.answer });
}

/** Waits for the work, but no longer than until a moment (milliseconds since 1970). */
async function before(until: number, work: Promise<unknown>): Promise<void> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise((resolve) => {
    timer = setTimeout(resolve, Math.max(until - Date.now(), 0));
  });
  await Promise.race([work, late]);
  clearTimeout(timer);
}

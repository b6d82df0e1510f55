import { randomInt } from 'node:crypto';
import { mkdirSync } from 'node:fs';
import { dirname } from 'node:path';
import type { Receiver } from '@slack/bolt';
import { WebClient } from '@slack/web-api';
import type { Bot } from '../commands/common/bot.js';
import { drawPicture } from '../kit/pictures/draw-picture.js';
import type { Clock } from '../runtime/clock.js';
import type { Log } from '../runtime/log.js';
import { createCounters } from '../slack/counters.js';
import { createApp } from '../slack/in/app.js';
import { createHttpReceiver } from '../slack/in/http-receiver.js';
import { createSocketReceiver } from '../slack/in/socket-receiver.js';
import type { Loop } from '../slack/loop.js';
import { createNightlyBackup } from '../slack/loops/backup.js';
import { createHealth, type Health, serveMetrics } from '../slack/loops/health.js';
import { createReminderLoop } from '../slack/loops/reminders.js';
import { rereadThread, rereadThreads } from '../slack/loops/reread.js';
import { isSettled } from '../slack/loops/settled.js';
import { createWorker } from '../slack/loops/worker.js';
import { createKeeper } from '../slack/out/keeper.js';
import { introduce, webOptions } from '../slack/out/web-api.js';
import { type PictureDrawer, type Runtime, type SheetDrawer, track } from '../slack/runtime.js';
import { retrySetAside } from '../store/inbox.js';
import { reviveStopped } from '../store/notices.js';
import {
  createRelaxedTransaction,
  lockDatabase,
  type OpenDatabase,
  openDatabase,
} from '../store/sqlite/open.js';
import type { Config, Connection } from './config.js';
import { createBot } from './create-bot.js';

export type BotOptions = {
  readonly config: Config & { readonly connection: Exclude<Connection, { readonly mode: 'local' }> };
  readonly clock: Clock;
  readonly log: Log;
  /** The real ones unless told. */
  readonly bot?: Bot;
  readonly drawPicture?: PictureDrawer;
  readonly drawSheet?: SheetDrawer;
  readonly newSeed?: () => number;
  /** A message is updated at most this often; bursts become one update. */
  readonly updateGapMs?: number;
};

export type RunningBot = Readonly<Awaited<ReturnType<typeof startBot>>>;

const STOP_MS = 10_000;

/**
 * Starts the bot: locks and opens the database, asks Slack who it is, listens, and goes on where it stopped.
 *
 * @throws DatabaseProblem or StartProblem, each with one line saying what to do
 */
export async function startBot(options: BotOptions) {
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

async function startWith(options: BotOptions, open: OpenDatabase, release: () => void) {
  const { config, clock, log } = options;
  const { connection, slackApiUrl } = config;
  const { db } = open;
  const web = new WebClient(connection.botToken, webOptions(slackApiUrl, log));
  const me = await introduce(web, log);
  await retrySetAside(db);
  await reviveStopped(db, null, clock.now());

  const loops = new Map<string, Loop>();
  const wake = () => {
    for (const loop of loops.values()) loop.wake();
  };
  const runtime: Runtime = {
    bot: options.bot ?? createBot(),
    deps: { db, clock, log, newSeed: options.newSeed ?? (() => randomInt(2 ** 32)) },
    relaxed: createRelaxedTransaction(open),
    web,
    me,
    counters: createCounters(),
    drawPicture: options.drawPicture ?? drawPicture,
    drawSheet: options.drawSheet ?? drawSheetWhenAsked,
    inFlight: new Set(),
    directMessages: new Map(),
    formPlaces: new Map(),
    rereadThread: (channel, threadTs) => track(runtime, rereadThread(runtime, channel, threadTs)),
    wake,
  };
  loops.set('worker', createWorker(runtime));
  loops.set('reminders', createReminderLoop(runtime));
  loops.set('keeper', createKeeper(runtime, options.updateGapMs ?? 1000));
  if (config.backupDir !== null && config.database !== ':memory:')
    loops.set('backup', createNightlyBackup(runtime, config.database, config.backupDir));

  const health = createHealth(runtime, open, loops);
  const receiver = receiverFor(options, health);
  const app = createApp(runtime, receiver, connection.botToken, slackApiUrl);
  await app.start();
  const metrics =
    config.metricsPort === null ? null : await serveMetrics(runtime, health, config.metricsPort);
  const stopListening = clock.onMove(wake);
  wake();
  track(runtime, rereadThreads(runtime));

  let stopping: Promise<void> | undefined;
  async function stop(): Promise<void> {
    const until = Date.now() + STOP_MS;
    stopListening();
    await before(until, app.stop());
    await metrics?.close();
    await before(until, Promise.all([...loops.values()].map((loop) => loop.stop())));
    await before(until, ended(runtime.inFlight));
    await open.close();
    release();
  }
  return {
    /** Where Slack's requests go, in HTTP mode. */
    url: receiver.url?.() ?? null,
    metricsUrl: metrics?.url ?? null,
    workspace: me.workspace,
    deps: runtime.deps,
    runtime,
    /** Resolves true once nothing is left to do: events, notices, reminders, answers. */
    settled: (timeoutMs = 10_000) => isSettled(runtime, loops, timeoutMs),
    /** Takes nothing new in, finishes what is in flight (ten seconds at most) and closes the database. */
    stop: () => {
      stopping ??= stop();
      return stopping;
    },
  };
}

function receiverFor({ config, log }: BotOptions, { routes }: Health): Receiver & { url?(): string } {
  const { connection, slackApiUrl } = config;
  if (connection.mode === 'socket') return createSocketReceiver(connection.appToken, slackApiUrl, log);
  return createHttpReceiver({ ...connection, log, routes: [...routes] });
}

/** Resolves when none of the work is under way, with what it has begun in its turn. */
async function ended(work: ReadonlySet<Promise<unknown>>): Promise<void> {
  while (work.size > 0) await Promise.all(work);
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

/** Loaded with the first sheet, as its library is large and most starts print none. */
const drawSheetWhenAsked: SheetDrawer = async (content, nameOf) =>
  (await import('../kit/pdf/draw-sheet.js')).drawSheet(content, nameOf);

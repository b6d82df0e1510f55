import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createBot } from '../../src/app/create-bot.js';
import type { BotOptions, RunningBot } from '../../src/app/run.js';
import { type LocalOptions, startBotIn, startLocal } from '../../src/app/run-local.js';
import type { Bot } from '../../src/commands/common/bot.js';
import { personClient } from '../../src/local/person-client.js';
import type { WorkspaceOptions } from '../../src/local/workspace.js';
import { createLog } from '../../src/runtime/log.js';
import { type StoryPerson, storyPerson } from './story-person.js';

export type HouseOptions = {
  /** The real bot unless told. */
  readonly bot?: Bot;
  /** What time it is when the story begins; real time by default. It goes on from there by itself. */
  readonly startsAt?: Date;
  readonly drawPicture?: BotOptions['drawPicture'];
  readonly drawSheet?: BotOptions['drawSheet'];
  readonly newSeed?: () => number;
  readonly workspaceOptions?: Partial<WorkspaceOptions>;
  /** Every log line, for a test that reads them. */
  readonly onLog?: (line: string) => void;
};

export type StoryHouse = Awaited<ReturnType<typeof startHouse>>;

/**
 * A whole house for a story: the local workspace, the bot behind its HTTP door and the workspace's clock,
 * with the demo's people and coffees, in this process and on files that go when it stops.
 */
export async function startHouse(options: HouseOptions = {}) {
  const folder = mkdtempSync(join(tmpdir(), 'tallyspoon-story-'));
  const parts: Omit<LocalOptions, 'port' | 'fresh'> = {
    database: join(folder, 'tallyspoon.db'),
    log: createLog(options.onLog ? 'trace' : 'silent', { write: (line) => options.onLog?.(line) }),
    bot: options.bot ?? createBot(),
    drawPicture: options.drawPicture ?? (async () => Buffer.from('a picture')),
    drawSheet: options.drawSheet ?? (async () => Buffer.from('a sheet')),
    updateGapMs: 0,
    ...(options.newSeed ? { newSeed: options.newSeed } : {}),
  };
  const clock = options.startsAt ? { clock: runningFrom(options.startsAt) } : {};
  const workspaceOptions = { ...clock, ...options.workspaceOptions };
  const local = await startLocal({ ...parts, port: 0, fresh: false, workspaceOptions });
  const { workspace } = local;
  const client = personClient(workspace.url);
  const { people, channels } = await client.state();
  const channel = channels.find(({ name }) => name === 'tasting-table')?.id ?? '';
  const ids = new Map(people.map(({ name, id }) => [name, id]));
  let running: RunningBot = local.bot;

  /** Waits until every delivery has been heard and everything the bot has to do for it is done. */
  async function settle(timeoutMs = 20_000): Promise<void> {
    const until = Date.now() + timeoutMs;
    while (Date.now() < until) {
      const heard = await client.settled({ timeoutMs });
      const done = await running.settled(timeoutMs);
      if (heard && done && (await client.settled({ timeoutMs: 1, quietMs: 0 }))) return;
    }
    throw new Error(`the house did not come to rest in ${timeoutMs} ms`);
  }

  return {
    workspace,
    client,
    /** The channel `#tasting-table`. */
    channel,
    /** A person's id by handle. */
    id: (name: string): string => {
      const id = ids.get(name);
      if (id === undefined) throw new Error(`nobody is called ${name}`);
      return id;
    },
    get bot() {
      return running;
    },
    as: (name: string): StoryPerson => storyPerson(client, { id: ids.get(name) ?? name, channel, settle }),
    settle,
    /** Lets time pass, and waits for what is due. */
    async advance(milliseconds: number): Promise<void> {
      await client.clock({ advance: milliseconds });
      await settle();
    },
    async moveTo(instant: Date): Promise<void> {
      await client.clock({ to: instant.toISOString() });
      await settle();
    },
    async stopBot(): Promise<void> {
      await running.stop();
    },
    async restartBot(bot: Bot = parts.bot ?? createBot()): Promise<void> {
      await running.stop();
      running = await startBotIn(workspace, { ...parts, bot });
    },
    async stop(): Promise<void> {
      await running.stop();
      await workspace.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

function runningFrom(start: Date): { now(): Date } {
  const began = Date.now();
  return { now: () => new Date(start.getTime() + Date.now() - began) };
}

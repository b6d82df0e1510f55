import { createBot } from '../../src/app/create-bot.js';
import { startLocal } from '../../src/app/run-local.js';
import type { Message } from '../../src/local/api-types.js';
import { personClient } from '../../src/local/person-client.js';
import { createLog } from '../../src/runtime/log.js';

export type Town = Awaited<ReturnType<typeof startTown>>;
export type Rng = () => number;

/** Numbers from 0 to 1, the same for the same seed (mulberry32, in the public domain). */
export function seeded(seed: number): Rng {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}

/** The roastery in memory, behind the workspace's door, with its clock and everything anyone can see or do. */
export async function startTown(startsAt: Date) {
  const began = Date.now();
  const troubles: string[] = [];
  const local = await startLocal({
    database: ':memory:',
    log: createLog('warn', { write: (line) => void troubles.push(line) }),
    bot: createBot(),
    drawPicture: async () => Buffer.from('a picture'),
    drawSheet: async () => Buffer.from('a sheet'),
    updateGapMs: 0,
    newSeed: () => 11,
    port: 0,
    fresh: false,
    workspaceOptions: {
      shareDelayMs: 0,
      clock: { now: () => new Date(startsAt.getTime() + Date.now() - began) },
    },
  });
  const client = personClient(local.workspace.url);
  const { people, channels } = await client.state();
  const channel = channels.find(({ name }) => name === 'tasting-table')?.id ?? '';
  const ids = new Map(people.map(({ name, id }) => [name, id]));
  const directs = new Map<string, string>();

  let restless = false;

  /** Waits until the bot has done what came of everything so far; at once when nothing was done since. */
  async function rest(): Promise<void> {
    if (!restless) return;
    restless = false;
    for (let round = 0; round < 50; round += 1) {
      const heard = await client.settled({ timeoutMs: 20_000, quietMs: 0 });
      if (heard && (await local.bot.settled(20_000)) && (await client.settled({ timeoutMs: 1, quietMs: 0 })))
        return;
    }
    throw new Error('the town did not come to rest');
  }
  const id = (name: string) => ids.get(name) ?? name;
  const did = <T>(work: Promise<T>): Promise<T> => {
    restless = true;
    return work;
  };

  return {
    client,
    channel,
    db: local.bot.deps.db,
    /** Log lines at warning and above: something went wrong. */
    troubles,
    id,
    now: () => local.workspace.clock.now(),
    rest,
    async moveTo(instant: Date): Promise<void> {
      if (instant <= local.workspace.clock.now()) return;
      await rest();
      await did(client.clock({ to: instant.toISOString() }));
      await rest();
    },
    /** Types a command; what the person alone is answered. */
    async command(name: string, text: string): Promise<string> {
      return (await this.answer(name, text)).words;
    },
    async answer(name: string, text: string) {
      const { response } = await did(client.command({ as: id(name), channel, text }));
      return { message: response, words: response ? wordsIn(response) : '' };
    },
    /** What stands in a person's direct messages with the bot, the latest last. */
    async direct(name: string): Promise<readonly Message[]> {
      await rest();
      const held = directs.get(name) ?? (await client.dm(id(name))).id;
      directs.set(name, held);
      return client.messages(id(name), held);
    },
    async messages(name: string): Promise<readonly Message[]> {
      await rest();
      return client.messages(id(name), channel);
    },
    async say(name: string, text: string, thread: string): Promise<void> {
      await did(client.say({ as: id(name), channel, text, thread }));
    },
    /** Taps a button of a message by its full action id; false when it is gone by now. */
    async tap(name: string, message: Message, actionId: string): Promise<boolean> {
      try {
        await did(
          client.tap({
            as: id(name),
            message: { channel: message.channel, ts: message.ts },
            action: { actionId },
          }),
        );
      } catch (error) {
        if (String(error).includes('not_found')) return false;
        throw error;
      }
      return true;
    },
    /** Submits the form on top. */
    async submit(
      name: string,
      values: Readonly<Record<string, string | readonly string[]>>,
    ): Promise<unknown> {
      await rest();
      const { stack } = await client.views(id(name));
      const view = stack.at(-1);
      if (!view) throw new Error(`${name} has no form open`);
      const named = Object.fromEntries(
        Object.entries(values).map(([block, value]) => [block, { input: value }]),
      );
      return did(client.submit({ as: id(name), view: { id: view.id }, values: named }));
    },
    async formWords(name: string): Promise<string> {
      await rest();
      return JSON.stringify((await client.views(id(name))).stack.at(-1)?.blocks ?? []);
    },
    async stop(): Promise<void> {
      await local.stop();
    },
  };
}

/** Everything a message says. */
export function wordsIn(message: Message): string {
  const texts = [...JSON.stringify(message.blocks ?? []).matchAll(/"text":"((?:[^"\\]|\\.)*)"/g)];
  return [message.text, ...texts.map((match) => match[1] ?? '')].join('\n').replaceAll('\u2060', '');
}

/** The action ids of a message's buttons. */
export function buttonsOf(message: Message): readonly string[] {
  return [...JSON.stringify(message.blocks ?? []).matchAll(/"action_id":"([^"]+)"/g)].map(
    (match) => match[1] ?? '',
  );
}

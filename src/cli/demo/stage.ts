import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { z } from 'zod';
import { startLocal } from '../../app/run-local.js';
import type { Message } from '../../local/api-types.js';
import { personClient } from '../../local/person-client.js';
import { createLog } from '../../runtime/log.js';

const FormShown = z
  .object({ title: z.union([z.string(), z.object({ text: z.string() })]), blocks: z.array(z.unknown()) })
  .transform(({ title, blocks }) => ({ title: typeof title === 'string' ? title : title.text, blocks }));
export type Form = z.output<typeof FormShown>;

export type Stage = Awaited<ReturnType<typeof openStage>>;

/** A house to play a story in: the local workspace and the bot behind its door, gone when the story ends. */
export async function openStage(startsAt: Date) {
  const folder = mkdtempSync(join(tmpdir(), 'tallyspoon-demo-'));
  const log = createLog('silent');
  const local = await startLocal({
    log,
    database: join(folder, 'demo.db'),
    port: 0,
    fresh: false,
    updateGapMs: 0,
    newSeed: () => 20_261,
    workspaceOptions: { clock: runningFrom(startsAt) },
  });
  const client = personClient(local.workspace.url);
  const state = await client.state();
  const channel = state.channels.find(({ name }) => name === 'tasting-table')?.id ?? '';
  const names = new Map([
    ...state.people.map((person) => [person.id, person.realName] as const),
    ...state.channels.map((one) => [one.id, one.name] as const),
  ]);
  const ids = new Map(state.people.map((person) => [person.name, person.id]));
  const id = (handle: string) => ids.get(handle) ?? handle;

  async function settle(): Promise<void> {
    for (let round = 0; round < 200; round += 1) {
      const heard = await client.settled({ timeoutMs: 20_000 });
      const done = await local.bot.settled(20_000);
      if (heard && done && (await client.settled({ timeoutMs: 1, quietMs: 0 }))) return;
    }
  }

  return {
    client,
    channel,
    names,
    id,
    settle,
    messages: () => client.messages(id('ines'), channel),
    thread: (ts: string, as = 'ines') => client.messages(id(as), channel, ts),
    direct: async (as: string) => client.messages(id(as), (await client.dm(id(as))).id),
    async command(as: string, text: string): Promise<Message | null> {
      const { response } = await client.command({ as: id(as), channel, text });
      await settle();
      return response ?? null;
    },
    async say(as: string, text: string, thread: string): Promise<string> {
      const ts = await client.say({ as: id(as), channel, text, thread });
      await settle();
      return ts;
    },
    async post(path: string, body: Readonly<Record<string, unknown>>): Promise<void> {
      await client.post(path, body);
      await settle();
    },
    async tap(as: string, message: Message, action: string): Promise<void> {
      const actionId = findAction(message.blocks, action);
      await client.tap({
        as: id(as),
        message: { channel: message.channel, ts: message.ts },
        action: { actionId },
      });
      await settle();
    },
    async submit(as: string, values: Readonly<Record<string, string | readonly string[]>>): Promise<void> {
      const { stack } = await client.views(id(as));
      const view = stack.at(-1);
      if (!view) throw new Error(`${as} has no form open`);
      const named = Object.fromEntries(
        Object.entries(values).map(([block, value]) => [block, { input: value }]),
      );
      await client.submit({ as: id(as), view: { id: view.id }, values: named });
      await settle();
    },
    /** The form on top, as this person sees it. */
    async form(as: string): Promise<Form> {
      const { stack } = await client.views(id(as));
      const view = stack.at(-1);
      if (!view) throw new Error(`${as} has no form open`);
      return FormShown.parse(view);
    },
    async moveTo(instant: string): Promise<void> {
      await client.clock({ to: instant });
      await settle();
    },
    async close(): Promise<void> {
      await local.stop();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

function findAction(blocks: unknown, action: string): string {
  const found = [...JSON.stringify(blocks).matchAll(/"action_id":"([^"]+)"/g)].map((match) => match[1] ?? '');
  const id = found.find((one) => one === action || one.startsWith(`${action}#`));
  if (id === undefined) throw new Error(`there is nothing to tap called ${action}`);
  return id;
}

function runningFrom(start: Date): { now(): Date } {
  const began = Date.now();
  return { now: () => new Date(start.getTime() + Date.now() - began) };
}

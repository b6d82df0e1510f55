import { z } from 'zod';
import type { Door } from './acknowledge.js';
import type { Child } from './children.js';
import { type Figure, figure } from './figures.js';
import { load } from './load.js';
import { notes } from './requests.js';

export type Counted = { readonly door: string; readonly perSecond: Figure };

const State = z.object({ waiting: z.number(), last: z.number() });
const Rows = z.object({ seconds: z.number() });

/**
 * Notes a second from sending the first to having the last one's mentions in the database and its event done,
 * through the door; the floor makes as many durable one-row transactions in a plain loop.
 */
export async function countNotes(
  doors: readonly Door[],
  floor: Child,
  size: { readonly notes: number; readonly rounds: number },
): Promise<readonly Counted[]> {
  const rates = new Map<string, number[]>();
  const keep = (name: string, rate: number) => rates.set(name, [...(rates.get(name) ?? []), rate]);
  for (let round = 0; round <= size.rounds; round += 1) {
    const { seconds } = await floor.ask(Rows, { rows: size.notes });
    if (round > 0) keep('floor', size.notes / seconds);
    for (const door of doors) {
      if (!door.threads) continue;
      const started = performance.now();
      const pace = { requests: size.notes, connections: 20, perSecond: null };
      await load(door.child.url, notes(door.threads), pace);
      await untilCounted(door.child);
      if (round > 0) keep(door.name, (size.notes * 1000) / (performance.now() - started));
      await door.child.ask(z.boolean(), { ask: 'settled' });
    }
  }
  return [...rates].map(([door, all]) => ({ door, perSecond: figure(all) }));
}

async function untilCounted(child: Child): Promise<void> {
  for (;;) {
    const { waiting } = await child.ask(State, { ask: 'counted' });
    if (waiting === 0) return;
    await new Promise((resolve) => setTimeout(resolve, 5));
  }
}

import { z } from 'zod';
import { type Door, settle } from './acknowledge.js';
import type { Child } from './children.js';
import { type Figure, figure } from './figures.js';
import { load } from './load.js';
import { notes, type Thread } from './requests.js';

/** `receipt` starts when Bolt hands the event over; `door` starts when its HTTP request is sent. */
export type Counted = {
  readonly from: 'receipt' | 'door';
  readonly door: string;
  /** Milliseconds until all of them are counted. */
  readonly ms: Figure;
  readonly notes: number;
};

const State = z.object({ waiting: z.number(), last: z.number() });
const Seconds = z.object({ seconds: z.number() });
const CONNECTIONS = 20;

/**
 * Milliseconds until the last note's mentions are in the database and its event is done. From receipt the
 * floor is as many durable one-row transactions in a plain loop; through the door it is a bare Bolt handler
 * that makes one such insert and acknowledges.
 */
export async function countNotes(
  doors: readonly Door[],
  size: { readonly notes: number; readonly rounds: number },
): Promise<readonly Counted[]> {
  const fromReceipt = new Map<string, number[]>(doors.map(({ name }) => [name, []]));
  const fromDoor = new Map<string, number[]>(doors.map(({ name }) => [name, []]));
  const threads = doors.find((door) => door.threads)?.threads ?? [];
  for (let round = 0; round <= size.rounds; round += 1)
    for (const door of doors) {
      const receipt = await seconds(door, size.notes);
      const through = await throughDoor(door, threads, size.notes);
      // The first round warms the connections and the code; it is not counted.
      if (round === 0) continue;
      fromReceipt.get(door.name)?.push(receipt * 1000);
      fromDoor.get(door.name)?.push(through * 1000);
    }
  const { notes } = size;
  return [
    ...[...fromReceipt].map(([door, all]) => ({ from: 'receipt' as const, door, ms: figure(all), notes })),
    ...[...fromDoor].map(([door, all]) => ({ from: 'door' as const, door, ms: figure(all), notes })),
  ];
}

async function seconds(door: Door, count: number): Promise<number> {
  if (!door.threads) return (await door.child.ask(Seconds, { rows: count })).seconds;
  const under = door.threads.filter(({ key }) => key.startsWith('cup:'));
  const took = await door.child.ask(Seconds, { ask: 'take in', threads: under, notes: count });
  await settle(door);
  return took.seconds;
}

async function throughDoor(door: Door, threads: readonly Thread[], count: number): Promise<number> {
  const started = performance.now();
  const pace = { requests: count, connections: CONNECTIONS, perSecond: null };
  await load(door.child.url, notes(door.threads ?? threads), pace);
  if (door.threads) await untilCounted(door.child);
  const took = (performance.now() - started) / 1000;
  await settle(door);
  return took;
}

async function untilCounted(child: Child): Promise<void> {
  for (;;) {
    const { waiting } = await child.ask(State, { ask: 'counted' });
    if (waiting === 0) return;
    await new Promise((resolve) => setTimeout(resolve, 5));
  }
}

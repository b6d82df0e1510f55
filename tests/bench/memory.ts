import { z } from 'zod';
import { type Door, settle } from './acknowledge.js';
import { load } from './load.js';
import { commands, notes } from './requests.js';

export type Memory = { readonly rssMb: number; readonly heapMb: number };
export type Kept = {
  readonly door: string;
  readonly atStart: Memory;
  readonly atRest: Memory;
  readonly afterLoad: Memory;
  readonly events: number;
};

const Read = z.object({ rssMb: z.number(), heapMb: z.number() });
const WARM_UP = 1500;

/**
 * Memory after garbage collection and a few seconds' pause: just started, at rest (after a warm-up that fills caches and compiles
 * code), and after as many notes as Slack delivers in an hour at most, sent as fast as they are taken.
 */
export async function memory(door: Door, events: number): Promise<Kept> {
  const { child, threads } = door;
  if (!threads) throw new Error('only the bot keeps tables');
  const read = async () => {
    await settle(door);
    return child.ask(Read, { ask: 'memory' });
  };
  const atStart = await read();
  await load(child.url, commands(), { requests: 200, connections: 10, perSecond: null });
  await load(child.url, notes(threads), { requests: WARM_UP, connections: 10, perSecond: null });
  const atRest = await read();
  await load(child.url, notes(threads), { requests: events, connections: 10, perSecond: null });
  return { door: door.name, atStart, atRest, afterLoad: await read(), events };
}

import { z } from 'zod';
import type { Child } from './children.js';
import { type Figure, figure } from './figures.js';
import { type Answered, load, type Pace } from './load.js';
import { commands, type MakeRequest, notes, type Thread, taps } from './requests.js';

export type Door = {
  readonly name: string;
  readonly child: Child;
  /** Null for the floor, which has no tables of its own and gets the first bot's requests. */
  readonly threads: readonly Thread[] | null;
};

export type Acknowledged = {
  readonly request: string;
  readonly pace: string;
  readonly connections: number;
  readonly door: string;
  readonly p50: Figure;
  readonly p99: Figure;
  readonly perSecond: Figure;
};

const Asked = z.array(z.object({ note: z.number(), person: z.string(), cups: z.array(z.number()) }));
const MANY_WITHOUT_CUP = 60;

/** The doors take turns, round by round, so that whatever else the machine does meets them all alike. */
export async function acknowledge(
  doors: readonly Door[],
  paces: readonly (Pace & { readonly name: string })[],
  rounds: number,
): Promise<readonly Acknowledged[]> {
  const made = new Map<Door, ReadonlyMap<string, MakeRequest>>();
  for (const door of doors) made.set(door, await requestsOf(door, doors));
  const results: Acknowledged[] = [];
  for (const request of ['command', 'button', 'note']) {
    for (const door of doors) await warmUp(door, made.get(door)?.get(request));
    for (const pace of paces) {
      const answered = new Map<Door, Answered[]>(doors.map((door) => [door, []]));
      // The first round warms the connections; it is not counted.
      for (let round = 0; round <= rounds; round += 1)
        for (const door of doors) {
          const make = made.get(door)?.get(request);
          if (!make) throw new Error(`no ${request} for ${door.name}`);
          const one = await load(door.child.url, make, pace);
          if (round > 0) answered.get(door)?.push(one);
          if (door.threads) await door.child.ask(z.boolean(), { ask: 'settled' });
        }
      for (const [door, all] of answered)
        results.push({
          request,
          pace: pace.name,
          connections: pace.connections,
          door: door.name,
          p50: figure(all.map((one) => one.p50)),
          p99: figure(all.map((one) => one.p99)),
          perSecond: figure(all.map((one) => one.perSecond)),
        });
    }
  }
  return results;
}

const WARM_UP = { requests: 1500, connections: 10, perSecond: null };

/** A process that has been running for a while: its code compiled, its queries prepared. */
async function warmUp(door: Door, make: MakeRequest | undefined): Promise<void> {
  if (!make) return;
  await load(door.child.url, make, WARM_UP);
  if (door.threads) await door.child.ask(z.boolean(), { ask: 'settled' });
}

async function requestsOf(door: Door, doors: readonly Door[]): Promise<ReadonlyMap<string, MakeRequest>> {
  const threads = door.threads ?? doors.find((other) => other.threads)?.threads ?? [];
  let asked = [{ note: 1, person: 'U1', cups: [1] }];
  if (door.threads) {
    const pace = { requests: MANY_WITHOUT_CUP, connections: 4, perSecond: null };
    await load(door.child.url, notes(threads, 'table'), pace);
    await door.child.ask(z.boolean(), { ask: 'settled' });
    asked = await door.child.ask(Asked, { ask: 'without a cup' });
  }
  return new Map([
    ['command', commands()],
    ['button', taps(asked)],
    ['note', notes(threads)],
  ]);
}

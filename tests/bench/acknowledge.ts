import { z } from 'zod';
import type { Child } from './children.js';
import { type Figure, figure } from './figures.js';
import { type Answered, load, type Pace } from './load.js';
import { commands, type MakeRequest, notes, type Thread, taps } from './requests.js';

export type Door = {
  readonly name: string;
  readonly child: Child;
  /** Null for a floor, which has no tables of its own and gets the first bot's requests. */
  readonly threads: readonly Thread[] | null;
};

export type NamedPace = Pace & {
  readonly name: string;
  /** So slow that all doors are asked at the same time, each a share of the gap after the one before. */
  readonly together?: boolean;
};

export type Acknowledged = {
  readonly request: string;
  readonly pace: string;
  readonly isFloor: boolean;
  readonly door: string;
  readonly p50: Figure;
  readonly p99: Figure;
};

const Asked = z.array(z.object({ note: z.number(), person: z.string(), cups: z.array(z.number()) }));
const MANY_WITHOUT_CUP = 60;

/**
 * The doors take turns, round by round, so that whatever else the machine does meets them all alike. There are
 * two floors: how far they lie apart is how far two equal doors do.
 */
export async function acknowledge(
  doors: readonly Door[],
  paces: readonly NamedPace[],
  rounds: number,
): Promise<readonly Acknowledged[]> {
  const made = new Map<Door, ReadonlyMap<string, MakeRequest>>();
  for (const door of doors) made.set(door, await requestsOf(door, doors));
  const results: Acknowledged[] = [];
  for (const request of ['command', 'button', 'note']) {
    const makes = new Map<Door, MakeRequest>();
    for (const door of doors) {
      const make = made.get(door)?.get(request);
      if (!make) throw new Error(`no ${request} for ${door.name}`);
      makes.set(door, make);
      await load(door.child.url, make, WARM_UP);
      await settle(door);
    }
    for (const pace of paces) {
      const answered = new Map<Door, Answered[]>(doors.map((door) => [door, []]));
      // The first round warms the connections; it is not counted.
      for (let round = 0; round <= rounds; round += 1)
        for (const [door, one] of await oneRound(makes, pace)) if (round > 0) answered.get(door)?.push(one);
      for (const [door, all] of answered)
        results.push({
          request,
          pace: pace.name,
          isFloor: door.threads === null,
          door: door.name,
          p50: figure(all.map((one) => one.p50)),
          p99: figure(all.map((one) => one.p99)),
        });
    }
  }
  return results;
}

async function oneRound(
  makes: ReadonlyMap<Door, MakeRequest>,
  pace: NamedPace,
): Promise<readonly (readonly [Door, Answered])[]> {
  const gapMs = 1000 / (pace.perSecond ?? Number.POSITIVE_INFINITY) / makes.size;
  const ask = async ([door, make]: readonly [Door, MakeRequest], afterMs: number) => {
    const one = await load(door.child.url, make, pace, afterMs);
    await settle(door);
    return [door, one] as const;
  };
  if (pace.together) return Promise.all([...makes].map((door, place) => ask(door, place * gapMs)));
  const all: (readonly [Door, Answered])[] = [];
  for (const door of makes) all.push(await ask(door, 0));
  return all;
}

/** Waits until a bot has counted and shown everything; a floor has nothing more to do. */
export async function settle({ child, threads }: Door): Promise<void> {
  if (threads) await child.ask(z.boolean(), { ask: 'settled' });
}

/** Before it is measured: a process that has been running for a while, its code compiled, its queries prepared. */
const WARM_UP = { requests: 6000, connections: 10, perSecond: null };

async function requestsOf(door: Door, doors: readonly Door[]): Promise<ReadonlyMap<string, MakeRequest>> {
  const threads = door.threads ?? doors.find((other) => other.threads)?.threads ?? [];
  let asked = [{ note: 1, person: 'U1', cups: [1] }];
  if (door.threads) {
    const pace = { requests: MANY_WITHOUT_CUP, connections: 4, perSecond: null };
    await load(door.child.url, notes(threads, 'table'), pace);
    await settle(door);
    asked = await door.child.ask(Asked, { ask: 'without a cup' });
  }
  return new Map([
    ['command', commands()],
    ['button', taps(asked)],
    ['note', notes(threads)],
  ]);
}

import { setTimeout as sleep } from 'node:timers/promises';
import type { badDay } from './bad-days.js';
import { throwDice } from './dice.js';
import { happens } from './insist.js';
import type { World } from './world.js';

/*
 * Now and then Slack cannot reach the bot for so long that it gives its events up for good. What was written
 * meanwhile stands in the threads alone, for the next life to read there.
 */

export const CUT_OFF: ReturnType<typeof badDay> = [{ kind: 'lose-delivery', chance: 1 }];

/** While the table is open, as a share of the run. */
const FROM = 0.42;
const TO = 0.68;
const ONE_IN = 12;
const WRITTEN = 4;
const WRITTEN_WITHIN_MS = 6_000;
/** Slack tries again at once, after a minute and after five more; then it gives an event up. */
const RETRIES_MS = [61_000, 301_000] as const;
const TRIED_MS = 150;

/** Lives that pass cut off: at least one, and one in twelve of a longer run. */
export function isCutOff(seed: number, phase: number, kills: number): boolean {
  const dice = throwDice(seed, 'outages');
  for (let left = Math.max(1, Math.round(kills / ONE_IN)); left > 0; left -= 1)
    if (dice.between(Math.ceil(FROM * kills), Math.floor(TO * kills)) === phase) return true;
  return false;
}

/** Lets people write and change their minds, and time pass until Slack has given up. */
export async function cutOff(world: World): Promise<string> {
  const before = world.expected.notes.size;
  await happens(() => world.expected.notes.size >= before + WRITTEN, WRITTEN_WITHIN_MS);
  await world.quietly(async () => {
    await sleep(TRIED_MS);
    for (const advance of RETRIES_MS) {
      await world.client.clock({ advance });
      await sleep(TRIED_MS);
    }
  });
  return 'after Slack could not reach it';
}

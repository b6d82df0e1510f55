import { listChanged } from '../store/changed.js';
import { waitingEvents } from '../store/inbox.js';
import { countNotices } from '../store/notices.js';
import { listDue } from '../store/reminders.js';
import type { House } from './house.js';
import type { Loop } from './loop.js';

const LOOK_EVERY_MS = 10;

/** True once nothing is left to do for the time it is; false when there still is after `timeoutMs`. */
export async function isSettled(
  house: House,
  loops: ReadonlyMap<string, Loop>,
  timeoutMs: number,
): Promise<boolean> {
  const until = Date.now() + timeoutMs;
  while (Date.now() < until) {
    if (await isIdle(house, loops)) return true;
    await new Promise((resolve) => setTimeout(resolve, LOOK_EVERY_MS));
  }
  return false;
}

async function isIdle(house: House, loops: ReadonlyMap<string, Loop>): Promise<boolean> {
  const busy = () => house.inHand.count > 0 || [...loops.values()].some((loop) => loop.busy);
  if (busy()) return false;
  const { db, clock } = house.deps;
  const left = [
    (await waitingEvents(db)).count,
    (await listChanged(db, 1)).length,
    (await countNotices(db)).differing,
    (await listDue(db, clock.now(), 1)).length,
  ];
  return left.every((count) => count === 0) && !busy();
}

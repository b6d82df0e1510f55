import { setTimeout as pause } from 'node:timers/promises';
import { listChanged } from '../../store/changed.js';
import { waitingEvents } from '../../store/inbox.js';
import { countDiffering } from '../../store/notices.js';
import { listDue } from '../../store/reminders.js';
import type { Loop } from '../loop.js';
import type { Runtime } from '../runtime.js';

const LOOK_EVERY_MS = 10;

/** True once nothing is left to do for the time it is; false when there still is after `timeoutMs`. */
export async function isSettled(
  runtime: Runtime,
  loops: ReadonlyMap<string, Loop>,
  timeoutMs: number,
): Promise<boolean> {
  for (const until = Date.now() + timeoutMs; Date.now() < until; await pause(LOOK_EVERY_MS))
    if (await isIdle(runtime, loops)) return true;
  return false;
}

async function isIdle({ inFlight, deps }: Runtime, loops: ReadonlyMap<string, Loop>): Promise<boolean> {
  const isBusy = () => inFlight.size > 0 || [...loops.values()].some((loop) => loop.busy);
  if (isBusy()) return false;
  const { db, clock } = deps;
  const left = [
    (await waitingEvents(db)).count,
    (await listChanged(db, 1)).length,
    await countDiffering(db),
    (await listDue(db, clock.now(), 1)).length,
  ];
  return left.every((count) => count === 0) && !isBusy();
}

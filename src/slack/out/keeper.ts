import { setTimeout as sleep } from 'node:timers/promises';
import { type Differing, listDiffering } from '../../store/notices.js';
import { createLoop, type Loop } from '../loop.js';
import { type Runtime, track } from '../runtime.js';
import { type Pauses, showNotice } from './show-notice.js';
import { createWorkOut } from './work-out.js';

const ROWS = 500;
/** Places worked on at the same time. */
const LANES = 8;
/** A turn looks through everything that differs, so turns that follow one another closely become one. */
const TURN_GAP_MS = 20;

/**
 * Keeps every notice true: works out what changed subjects should show, then posts or updates whatever
 * differs. Each place is worked on in order; different places do not wait for one another. A message is
 * updated at most once in `updateGapMs`, so a burst of notes becomes one update.
 */
export function createKeeper(runtime: Runtime, updateGapMs: number): Loop {
  const { db, clock } = runtime.deps;
  const workOut = createWorkOut(runtime, updateGapMs);
  const pauses: Pauses = new Map();
  /** Each lane at work, and since when it has been at its present notice. */
  const busyLanes = new Map<string, Date>();
  const updatedAt = new Map<string, number>();
  let turnedAt = Number.NEGATIVE_INFINITY;

  /** When a row may be tried, in milliseconds since 1970. */
  function dueAt(row: Differing): number {
    const wait = row.next_try_at === null ? 0 : new Date(row.next_try_at).getTime();
    const last = row.ts === null ? undefined : updatedAt.get(`${row.workspace} ${row.key}`);
    return last === undefined ? wait : Math.max(wait, last + updateGapMs);
  }

  async function workLane(lane: string, rows: readonly Differing[]): Promise<void> {
    try {
      for (const row of rows) {
        busyLanes.set(lane, new Date());
        const done = await showNotice(runtime, pauses, row);
        if (row.kind === 'message') updatedAt.set(`${row.workspace} ${row.key}`, clock.now().getTime());
        if (!done && isPost(row)) break;
      }
    } finally {
      busyLanes.delete(lane);
      loop.wake();
    }
  }

  const loop = createLoop('keeper', runtime, async () => {
    const tooSoonMs = turnedAt + TURN_GAP_MS - performance.now();
    if (tooSoonMs > 0) await sleep(tooSoonMs);
    turnedAt = performance.now();
    let next = await workOut();
    const now = clock.now().getTime();
    // Whichever lane is done first wakes the keeper again, so until then nothing need be read.
    if (busyLanes.size >= LANES) return next;
    for (const [lane, rows] of byLane(await listDiffering(db, ROWS))) {
      if (busyLanes.has(lane) || busyLanes.size >= LANES) continue;
      const ready = readyRows(rows, dueAt, now);
      if (ready.length > 0) track(runtime, workLane(lane, ready));
      else
        next = Math.min(
          next ?? Number.POSITIVE_INFINITY,
          ...rows.map((row) => Math.max(dueAt(row) - now, 1)),
        );
    }
    for (const [key, at] of updatedAt) if (at < now - updateGapMs) updatedAt.delete(key);
    return next;
  });

  return {
    wake: loop.wake,
    get busy() {
      return loop.busy || busyLanes.size > 0;
    },
    get since() {
      const begun = [loop.since, ...busyLanes.values()].filter((since) => since !== null);
      return begun.reduce<Date | null>((first, since) => (first && first < since ? first : since), null);
    },
    stop: () => loop.stop(),
  };
}

/** Rows that may be tried now, leaving out posts behind a post in the same place that has to wait. */
function readyRows(
  rows: readonly Differing[],
  dueAt: (row: Differing) => number,
  now: number,
): readonly Differing[] {
  let postWaits = false;
  return rows.filter((row) => {
    const isReady = dueAt(row) <= now && !(isPost(row) && postWaits);
    if (isPost(row)) postWaits = !isReady;
    return isReady;
  });
}

function isPost(row: Differing): boolean {
  return row.ts === null && (row.kind === 'message' || row.kind === 'file');
}

function byLane(rows: readonly Differing[]): ReadonlyMap<string, readonly Differing[]> {
  const lanes = new Map<string, Differing[]>();
  for (const row of rows) lanes.set(row.lane, [...(lanes.get(row.lane) ?? []), row]);
  return lanes;
}

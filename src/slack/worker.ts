import { KindRefusal } from '../runtime/errors.js';
import {
  type InboxRow,
  listWaiting,
  markDone,
  pruneInbox,
  putOff,
  setAside,
  waitingEvents,
} from '../store/inbox.js';
import { problemOf } from './attempt.js';
import { REMEMBERED_MS } from './events.js';
import { type Handled, handle, handsOf, tell } from './handle-row.js';
import type { House } from './house.js';
import { KEPT_TAP } from './kept-tap.js';
import { createLoop, type Loop } from './loop.js';
import { showInTurn } from './show-answer.js';

/** A batch holds the thread and the database, so it stays short until a burst of requests is surely over. */
const BATCH = { rows: 200, ms: 16 };
const BATCH_BETWEEN_REQUESTS = { rows: 20, ms: 1 };
const BURST_IS_OVER_MS = 25;
const TRIES = 5;
const PRUNED_AT_ONCE = 200;
const PRUNE_EVERY_MS = 60_000;

/** Takes stored events in order and hands them to the bot, several in one commit. */
export function createWorker(house: House): Loop {
  const rest = createRest(house);
  return createLoop('worker', house, async () => {
    await house.rightOfWay.toCount();
    const now = house.deps.clock.now();
    const isOver = house.rightOfWay.quietMs() >= BURST_IS_OVER_MS;
    const batch = isOver ? BATCH : BATCH_BETWEEN_REQUESTS;
    const rows = await listWaiting(house.deps.db, now, batch.rows);
    house.rightOfWay.counting(rows.length > 0);
    if (rows.length === 0) return rest();
    const handled = (await handleTogether(house, rows, batch.ms)) ?? (await handleOneByOne(house, rows));
    house.counters.handled.inc(handled.length);
    for (const { place, answer } of handled)
      if (answer) house.inHand.background(() => showInTurn(house, place, answer));
    // Words said to the bot may have changed anything; a note, or what is said of one, changes what is shown.
    if (handled.length > 0) house.wake(handled.every(isNote) ? 'keeper' : undefined);
    return 0;
  });
}

function isNote({ row, answer }: Handled): boolean {
  return row.kind === KEPT_TAP || (answer === null && row.kind.startsWith('message'));
}

/** As many as fit into a transaction of `ms`; null when one of them throws, and then nothing has happened. */
async function handleTogether(
  house: House,
  rows: readonly InboxRow[],
  ms: number,
): Promise<readonly Handled[] | null> {
  const started = performance.now();
  try {
    return await house.relaxed(async (db) => {
      const hands = handsOf(house, db);
      const handled: Handled[] = [];
      for (const row of rows) {
        handled.push(await handle(house, hands, row));
        if (performance.now() - started > ms) break;
      }
      await markDone(
        db,
        handled.map(({ row }) => row.id),
      );
      return handled;
    });
  } catch {
    return null;
  }
}

async function handleOneByOne(house: House, rows: readonly InboxRow[]): Promise<readonly Handled[]> {
  const handled: Handled[] = [];
  const held = new Set<string>();
  for (const row of rows) {
    if (held.has(row.lane)) continue;
    try {
      const done = await house.relaxed(async (db) => {
        const one = await handle(house, handsOf(house, db), row);
        await markDone(db, [row.id]);
        return one;
      });
      handled.push(done);
    } catch (error) {
      // A tap that fails is told at once: by the next try its writer may have tapped another cup.
      if (error instanceof KindRefusal || row.kind === KEPT_TAP)
        handled.push(await tell(house, row, problemOf(house, 'tap', error)));
      else if (await fail(house, row, error)) held.add(row.lane);
    }
  }
  return handled;
}

/** Puts a failed event off, or aside after several tries; true while its lane has to wait for it. */
async function fail(house: House, row: InboxRow, error: unknown): Promise<boolean> {
  const { log, db, clock } = house.deps;
  const reason = error instanceof Error ? error.message : String(error);
  house.counters.failed.inc({ where: 'event' });
  if (row.attempts + 1 >= TRIES) {
    log.error({ err: error, eventId: row.eventId }, 'an event is set aside; npm run doctor lists it');
    house.counters.setAside.inc();
    await setAside(db, row.id, reason);
    return false;
  }
  const waitMs = 500 * 4 ** row.attempts;
  log.warn(
    { err: error, eventId: row.eventId, attempts: row.attempts + 1 },
    'an event failed and is tried again',
  );
  await putOff(db, row.id, new Date(clock.now().getTime() + waitMs), reason);
  return true;
}

/** Nothing to do: now and then forget old events, and say when the next try is due. */
function createRest(house: House): () => Promise<number | null> {
  const { db, clock } = house.deps;
  let pruneFrom = 0;
  return async () => {
    const now = clock.now().getTime();
    if (now >= pruneFrom) {
      const gone = await pruneInbox(db, new Date(now - REMEMBERED_MS), PRUNED_AT_ONCE);
      pruneFrom = gone === PRUNED_AT_ONCE ? now : now + PRUNE_EVERY_MS;
    }
    const { nextTry } = await waitingEvents(db);
    return nextTry === null ? null : Math.max(nextTry.getTime() - now, 1);
  };
}

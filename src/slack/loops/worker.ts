import { setImmediate as letRequestsIn } from 'node:timers/promises';
import type { Received } from '../../commands/common/intake.js';
import { UserError } from '../../runtime/errors.js';
import {
  type InboxRow,
  listWaiting,
  markDone,
  pruneInbox,
  putOff,
  setAside,
  waitingEvents,
} from '../../store/inbox.js';
import { EventEnvelope, REMEMBERED_MS, readEvent } from '../in/slack-event.js';
import { createLoop, type Loop } from '../loop.js';
import { type AnswerPlace, showAnswer } from '../out/answers.js';
import { messageFor, problemOf } from '../out/error-messages.js';
import { type Runtime, track } from '../runtime.js';

const ROWS = 50;
const TRIES = 5;
const PRUNED_AT_ONCE = 200;
const PRUNE_EVERY_MS = 60_000;

/** Takes stored events in order and hands them to the bot, each in a transaction of its own. */
export function createWorker(runtime: Runtime): Loop {
  const { deps, wake } = runtime;
  let pruneFrom = 0;

  /** Nothing to do: now and then forget old events, and say when the next try is due. */
  async function rest(now: number): Promise<number | null> {
    if (now >= pruneFrom) {
      const gone = await pruneInbox(deps.db, new Date(now - REMEMBERED_MS), PRUNED_AT_ONCE);
      pruneFrom = gone === PRUNED_AT_ONCE ? now : now + PRUNE_EVERY_MS;
    }
    const { nextTry } = await waitingEvents(deps.db);
    return nextTry === null ? null : Math.max(nextTry.getTime() - now, 1);
  }

  return createLoop('worker', runtime, async () => {
    const now = deps.clock.now();
    const rows = await listWaiting(deps.db, now, ROWS);
    if (rows.length === 0) return rest(now.getTime());
    const heldLanes = new Set<string>();
    for (const row of rows) {
      await letRequestsIn();
      if (!heldLanes.has(row.lane) && !(await handle(runtime, row))) heldLanes.add(row.lane);
    }
    wake();
    return 0;
  });
}

/** Hands one event to the bot; false when it has to be tried again, so that its lane waits for it. */
async function handle(runtime: Runtime, row: InboxRow): Promise<boolean> {
  const { bot, deps, me, counters, relaxed } = runtime;
  let received: Received | null = null;
  try {
    received = readEvent(EventEnvelope.parse(JSON.parse(row.bodyJson)), me);
    const event = received;
    const answer = await relaxed(async (db) => {
      const given = event && (await bot.received({ ...deps, db }, event));
      await markDone(db, row.id);
      return given;
    });
    if (answer && event) track(runtime, showAnswer(runtime, placeOf(event), answer));
  } catch (error) {
    if (!(error instanceof UserError) || received === null) return fail(runtime, row, error);
    // What a person asked for came to nothing: nothing was changed, and they are told.
    await markDone(deps.db, row.id);
    const message = messageFor(problemOf(runtime, 'event', error));
    track(runtime, showAnswer(runtime, placeOf(received), { message }));
  }
  counters.handled.inc();
  return true;
}

/** Where somebody said something to the bot. */
function placeOf(received: Received): AnswerPlace {
  return {
    person: 'person' in received ? received.person : '',
    channel: 'channel' in received ? received.channel : null,
    threadTs: 'threadTs' in received ? received.threadTs : null,
    trigger: null,
    responseUrl: null,
    form: null,
    ...('words' in received ? { words: received.words } : {}),
  };
}

/** Puts a failed event off, or aside after several tries; true once its lane need not wait for it. */
async function fail({ deps, counters }: Runtime, row: InboxRow, error: unknown): Promise<boolean> {
  const { log, db, clock } = deps;
  const reason = error instanceof Error ? error.message : String(error);
  const about = { err: error, eventId: row.eventId, attempts: row.attempts + 1 };
  counters.failed.inc({ where: 'event' });
  if (about.attempts >= TRIES) {
    log.error(about, 'an event is set aside; npm run doctor lists it');
    counters.setAside.inc();
    await setAside(db, row.id, reason);
    return true;
  }
  log.warn(about, 'an event failed and is tried again');
  await putOff(db, row.id, new Date(clock.now().getTime() + 500 * 4 ** row.attempts), reason);
  return false;
}

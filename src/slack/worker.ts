import type { Answer } from '../commands/answer.js';
import type { Receiver } from '../commands/bot.js';
import { KindRefusal } from '../errors.js';
import {
  type InboxRow,
  listWaiting,
  markDone,
  pruneInbox,
  putOff,
  setAside,
  waitingEvents,
} from '../store/inbox.js';
import { messageFor } from './apology.js';
import { EventEnvelope, REMEMBERED_MS, readEvent } from './events.js';
import type { House } from './house.js';
import { createLoop, type Loop } from './loop.js';
import { showAnswer } from './show-answer.js';
import { afterMention, decodeText } from './text-in.js';

/** A batch holds the thread and the database, so one that is taken between requests stays short. */
const BATCH = { rows: 200, ms: 16 };
const BATCH_BETWEEN_REQUESTS = { rows: 20, ms: 2 };
const TRIES = 5;
const PRUNED_AT_ONCE = 200;
const PRUNE_EVERY_MS = 60_000;

type Handled = { readonly row: InboxRow; readonly envelope: EventEnvelope; readonly answer: Answer | null };

/** Takes stored events in order and hands them to the bot, several in one commit. */
export function createWorker(house: House): Loop {
  const rest = createRest(house);
  return createLoop('worker', house, async () => {
    await house.rightOfWay.toCount();
    const now = house.deps.clock.now();
    const batch = house.rightOfWay.isQuiet() ? BATCH : BATCH_BETWEEN_REQUESTS;
    const rows = await listWaiting(house.deps.db, now, batch.rows);
    house.rightOfWay.counting(rows.length > 0);
    if (rows.length === 0) return rest();
    const handled = (await handleTogether(house, rows, batch.ms)) ?? (await handleOneByOne(house, rows));
    house.counters.handled.inc(handled.length);
    for (const { envelope, answer } of handled)
      if (answer) house.inHand.background(() => showAnswer(house, placeOf(envelope), answer));
    // Words said to the bot may have changed anything; a note changes what is shown.
    if (handled.length > 0) house.wake(handled.every(isNote) ? 'keeper' : undefined);
    return 0;
  });
}

function isNote({ row, answer }: Handled): boolean {
  return answer === null && row.kind.startsWith('message');
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
      const receive = house.bot.receiver({ ...house.deps, db }, house.me.workspace);
      const handled: Handled[] = [];
      for (const row of rows) {
        handled.push(await handle(house, receive, row));
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
        const receive = house.bot.receiver({ ...house.deps, db }, house.me.workspace);
        const one = await handle(house, receive, row);
        await markDone(db, [row.id]);
        return one;
      });
      handled.push(done);
    } catch (error) {
      const refused = error instanceof KindRefusal ? await refuse(house, row, error) : null;
      if (refused) handled.push(refused);
      else if (await fail(house, row, error)) held.add(row.lane);
    }
  }
  return handled;
}

async function handle(house: House, receive: Receiver, row: InboxRow): Promise<Handled> {
  const envelope = EventEnvelope.parse(JSON.parse(row.bodyJson));
  const answer = await receive(readEvent(row.kind, envelope, house.me, row.receivedAt));
  return { row, envelope, answer };
}

/** What a person asked for in a mention was refused: nothing was changed, and they are told. */
async function refuse(house: House, row: InboxRow, refusal: KindRefusal): Promise<Handled> {
  await markDone(house.deps.db, [row.id]);
  const envelope = EventEnvelope.parse(JSON.parse(row.bodyJson));
  return { row, envelope, answer: { message: messageFor(refusal) } };
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

function placeOf({ event }: EventEnvelope): Parameters<typeof showAnswer>[1] {
  const words = afterMention(event.text ?? '')?.words ?? event.text ?? '';
  return {
    person: event.user ?? '',
    channel: event.channel ?? null,
    threadTs: event.thread_ts ?? null,
    trigger: null,
    responseUrl: null,
    form: null,
    words: decodeText(words),
  };
}

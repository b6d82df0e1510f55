import type { Answer, Deps, Receiver } from '../commands/common/bot.js';
import type { KindRefusal } from '../runtime/errors.js';
import type { DbOrTransaction } from '../store/db.js';
import { type InboxRow, markDone } from '../store/inbox.js';
import type { AnswerPlace } from './answer-place.js';
import { type Fault, messageFor } from './apology.js';
import { EventEnvelope, readEvent } from './events.js';
import type { House } from './house.js';
import { KEPT_TAP, readKeptTap } from './kept-tap.js';
import { afterMention, decodeText } from './text-in.js';

/** A row of the inbox that was handed to the bot, what it answered and where that goes. */
export type Handled = { readonly row: InboxRow; readonly place: AnswerPlace; readonly answer: Answer | null };
/** What handles rows in one transaction. */
type Hands = { readonly deps: Deps; readonly receive: Receiver };

export function handsOf(house: House, db: DbOrTransaction): Hands {
  const deps = { ...house.deps, db };
  return { deps, receive: house.bot.receiver(deps, house.me.workspace) };
}

/** Hands one row to the bot. */
export async function handle(house: House, { deps, receive }: Hands, row: InboxRow): Promise<Handled> {
  if (row.kind === KEPT_TAP) {
    const { tap, place } = readKeptTap(house, row.bodyJson);
    return { row, place, answer: await house.bot.tapped(deps, tap) };
  }
  const envelope = EventEnvelope.parse(JSON.parse(row.bodyJson));
  const answer = await receive(readEvent(row.kind, envelope, house.me, row.receivedAt));
  return { row, place: placeOfEvent(envelope), answer };
}

/** What a person asked for in a mention or a tap came to nothing: nothing was changed, and they are told. */
export async function tell(house: House, row: InboxRow, problem: KindRefusal | Fault): Promise<Handled> {
  await markDone(house.deps.db, [row.id]);
  return { row, place: placeOf(house, row), answer: { message: messageFor(problem) } };
}

function placeOf(house: House, row: InboxRow): AnswerPlace {
  if (row.kind === KEPT_TAP) return readKeptTap(house, row.bodyJson).place;
  return placeOfEvent(EventEnvelope.parse(JSON.parse(row.bodyJson)));
}

function placeOfEvent({ event }: EventEnvelope): AnswerPlace {
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

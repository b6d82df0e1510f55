import { randomUUID } from 'node:crypto';
import type { Tap } from '../commands/common/intake.js';
import type { Incoming } from '../store/inbox.js';
import type { AnswerPlace } from './answer-place.js';
import type { House } from './house.js';
import { TapPayload } from './payloads.js';
import { readTap } from './read-form.js';

/*
 * A tap that says something of a note ("which cup was that?") is stored like the note itself: Slack hears 200
 * once it is in the inbox, and the worker carries it out in its thread's order.
 */

/** The kind under which a tap is in the inbox. */
export const KEPT_TAP = 'tap';

/** The tap as it is kept; a trigger belongs to one tap alone. */
export function keepTap(payload: TapPayload, tap: Tap, receivedAt: Date): Incoming {
  return {
    workspace: tap.who.workspace,
    eventId: `${KEPT_TAP}:${payload.trigger_id ?? randomUUID()}`,
    kind: KEPT_TAP,
    lane: `${tap.channel ?? tap.who.person}:${tap.threadTs ?? tap.messageTs ?? ''}`,
    bodyJson: JSON.stringify(payload),
    receivedAt,
  };
}

/** A kept tap, and where its answer goes. */
export function readKeptTap(
  house: House,
  bodyJson: string,
): { readonly tap: Tap; readonly place: AnswerPlace } {
  const payload = TapPayload.parse(JSON.parse(bodyJson));
  const tap = readTap(payload);
  return { tap, place: placeOfTap(payload, tap, house) };
}

/** Where a tap was made; in a form, its message is where the form was opened from. */
export function placeOfTap(payload: TapPayload, tap: Tap, house: House): AnswerPlace {
  const formId = tap.form?.id ?? null;
  const from = formId === null ? null : house.formPlaces.find(payload.view?.root_view_id ?? formId);
  return {
    person: tap.who.person,
    channel: tap.channel ?? from?.channel ?? null,
    threadTs: tap.threadTs ?? from?.threadTs ?? null,
    trigger: payload.trigger_id ?? null,
    responseUrl: payload.response_url ?? null,
    form: formId === null ? null : { id: formId },
  };
}

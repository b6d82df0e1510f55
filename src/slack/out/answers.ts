import type { ModalView } from '@slack/types';
import type { Answer } from '../../commands/common/bot.js';
import { button, buttons, plainText, say, section } from '../../kit/blocks.js';
import type { Message } from '../../kit/notice.js';
import type { Runtime, SlackPlace } from '../runtime.js';
import { isTriggerGone, readFailure } from './call-failure.js';
import { openDirectMessages } from './slack-places.js';

/** Where somebody did something, and what Slack gave us to answer with. */
export type AnswerPlace = {
  readonly person: string;
  readonly channel: string | null;
  readonly threadTs: string | null;
  /** Good for one form within three seconds; null after a mention. */
  readonly trigger: string | null;
  readonly responseUrl: string | null;
  /** The form in which a tap or submission happened. */
  readonly form: { readonly id: string } | null;
  /** What was typed, to offer its form behind a button when there is no trigger. */
  readonly words?: string;
};

/** Where there is nothing to open a form or to answer with but the channel and the person. */
export const WITHOUT_TRIGGER = { trigger: null, responseUrl: null, form: null } as const;

/** The action id of the button that does again, with a trigger, what was typed in a mention. */
export const TYPED_AGAIN = 'typed_again';

const LATE = say('Slack took a little too long and the form could not open. Please tap or type it again.');

/** Shows the answer to a command, mention, tap or submission; never throws. */
export async function showAnswer(runtime: Runtime, place: AnswerPlace, answer: Answer): Promise<void> {
  try {
    if (answer.replaceForm && place.form)
      await runtime.web.views.update({ view_id: place.form.id, view: answer.replaceForm });
    const form = answer.form ?? answer.pushForm;
    if (form) await openForm(runtime, place, form);
    if (answer.message) await showMessage(runtime, place, answer.message, form !== undefined);
  } catch (error) {
    const failure = readFailure(error);
    runtime.counters.refusedCalls.inc({ outcome: failure.kind });
    if (failure.kind !== 'refused' || !isTriggerGone(failure.error))
      runtime.deps.log.warn({ failure }, 'an answer could not be shown');
    await tell(runtime, place, LATE);
  }
}

/** Kept in memory only: after a restart the answer goes to the person's direct messages instead. */
const FORM_PLACES = 1000;

async function openForm(runtime: Runtime, place: AnswerPlace, view: ModalView): Promise<void> {
  const { trigger, channel, threadTs } = place;
  if (trigger === null) return offerForm(runtime, place);
  const opened = await (place.form
    ? runtime.web.views.push({ trigger_id: trigger, view })
    : runtime.web.views.open({ trigger_id: trigger, view }));
  const id = opened.view?.id;
  if (!id || !channel) return;
  const { formPlaces } = runtime;
  formPlaces.set(id, { channel, threadTs });
  const [oldest] = formPlaces.keys();
  if (formPlaces.size > FORM_PLACES && oldest) formPlaces.delete(oldest);
}

/** Slack opens forms only from a command or a tap, so a mention is answered with something to tap. */
async function offerForm(runtime: Runtime, place: AnswerPlace): Promise<void> {
  const text = 'That needs a few more words. Tap to fill them in.';
  const value = { words: (place.words ?? '').slice(0, 1500), threadTs: place.threadTs };
  await tell(runtime, place, {
    text,
    blocks: [section(text), ...buttons(button('Fill it in', TYPED_AGAIN, value, { style: 'primary' }))],
  });
}

/** Behind a form a message in the channel would not be seen, so there it is a form of its own. */
async function showMessage(
  runtime: Runtime,
  place: AnswerPlace,
  message: Message,
  triggerUsed: boolean,
): Promise<void> {
  if (place.trigger === null || triggerUsed || (place.form === null && place.channel !== null))
    return tell(runtime, place, message);
  const view: ModalView = {
    type: 'modal',
    title: plainText('Tallyspoon', 24),
    close: plainText('Back', 24),
    blocks: [...message.blocks],
  };
  try {
    await openForm(runtime, place, view);
  } catch (error) {
    const failure = readFailure(error);
    runtime.deps.log.debug({ failure }, 'a message is shown in the channel instead of as a form');
    await tell(runtime, place, message);
  }
}

/**
 * Tells one person something where they are; where that is not possible (the bot is not in the channel,
 * the tap was in the home tab) through the response URL, and at last in their direct messages. Never throws.
 */
async function tell(runtime: Runtime, place: AnswerPlace, message: Message): Promise<void> {
  for (const way of [asEphemeral, throughResponseUrl, directly]) {
    try {
      if (await way(runtime, place, message)) return;
    } catch (error) {
      const failure = readFailure(error);
      runtime.counters.refusedCalls.inc({ outcome: failure.kind });
      runtime.deps.log.warn({ failure, way: way.name }, 'could not answer this way');
    }
  }
}

async function asEphemeral(runtime: Runtime, place: AnswerPlace, message: Message): Promise<boolean> {
  const { channel } = place;
  if (channel === null) return false;
  await postEphemeral(runtime, { ...place, channel }, message);
  return true;
}

/** Says something that one person alone sees. */
export async function postEphemeral(
  { web }: Runtime,
  { channel, threadTs, person }: SlackPlace & { readonly person: string },
  { text, blocks }: Message,
): Promise<void> {
  const place = { channel, user: person, ...(threadTs === null ? {} : { thread_ts: threadTs }) };
  await web.chat.postEphemeral({ ...place, text, blocks: [...blocks] });
}

async function throughResponseUrl(
  _: Runtime,
  { responseUrl }: AnswerPlace,
  { text, blocks }: Message,
): Promise<boolean> {
  if (responseUrl === null) return false;
  const answer = await fetch(responseUrl, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ response_type: 'ephemeral', replace_original: false, text, blocks }),
    signal: AbortSignal.timeout(10_000),
  });
  return answer.ok;
}

async function directly(runtime: Runtime, { person }: AnswerPlace, message: Message): Promise<boolean> {
  const channel = await openDirectMessages(runtime, person);
  await runtime.web.chat.postMessage({ channel, text: message.text, blocks: [...message.blocks] });
  return true;
}

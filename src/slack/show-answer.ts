import type { ModalView } from '@slack/types';
import type { Answer } from '../commands/common/bot.js';
import { button, buttons, plainText, section } from '../kit/blocks.js';
import type { Message } from '../kit/message.js';
import type { AnswerPlace } from './answer-place.js';
import { isTriggerGone, readFailure } from './call-outcome.js';
import type { House } from './house.js';
import { whisper } from './whisper.js';

/** The action id of the button that does again, with a trigger, what was typed in a mention. */
export const TYPED_AGAIN = 'typed_again';

const LATE: Message = {
  text: 'Slack took a little too long and the form could not open. Please tap or type it again.',
  blocks: [section('Slack took a little too long and the form could not open. Please tap or type it again.')],
};

/** Shows the answer to a command, mention, tap or submission; never throws. */
export async function showAnswer(house: House, place: AnswerPlace, answer: Answer): Promise<void> {
  try {
    if (answer.replaceForm && place.form)
      await house.web.views.update({ view_id: place.form.id, view: answer.replaceForm });
    const form = answer.form ?? answer.pushForm;
    if (form) await openForm(house, place, form);
    if (answer.message) await showMessage(house, place, answer.message, form !== undefined);
  } catch (error) {
    const failure = readFailure(error);
    house.counters.refusedCalls.inc({ outcome: failure.kind });
    if (failure.kind !== 'refused' || !isTriggerGone(failure.error))
      house.deps.log.warn({ failure }, 'an answer could not be shown');
    await whisper(house, place, LATE);
  }
}

/** As `showAnswer`, once no request waits for the thread. */
export async function showInTurn(house: House, place: AnswerPlace, answer: Answer): Promise<void> {
  await house.rightOfWay.toShow();
  await showAnswer(house, place, answer);
}

async function openForm(house: House, place: AnswerPlace, view: ModalView): Promise<void> {
  const { trigger, channel, threadTs } = place;
  if (trigger === null) return offerForm(house, place);
  const opened = await (place.form
    ? house.web.views.push({ trigger_id: trigger, view })
    : house.web.views.open({ trigger_id: trigger, view }));
  const id = opened.view?.id;
  if (id && channel) house.formPlaces.remember(id, { channel, threadTs });
}

/** Slack opens forms only from a command or a tap, so a mention is answered with something to tap. */
async function offerForm(house: House, place: AnswerPlace): Promise<void> {
  const text = 'That needs a few more words. Tap to fill them in.';
  const value = { words: (place.words ?? '').slice(0, 1500), threadTs: place.threadTs };
  await whisper(house, place, {
    text,
    blocks: [section(text), ...buttons(button('Fill it in', TYPED_AGAIN, value, { style: 'primary' }))],
  });
}

/** Behind a form a message in the channel would not be seen, so there it is a form of its own. */
async function showMessage(
  house: House,
  place: AnswerPlace,
  message: Message,
  triggerUsed: boolean,
): Promise<void> {
  if (place.trigger === null || triggerUsed || (place.form === null && place.channel !== null))
    return whisper(house, place, message);
  const view: ModalView = {
    type: 'modal',
    title: plainText('Tallyspoon', 24),
    close: plainText('Back', 24),
    blocks: [...message.blocks],
  };
  try {
    await openForm(house, place, view);
  } catch (error) {
    house.deps.log.debug(
      { failure: readFailure(error) },
      'a message is whispered instead of shown as a form',
    );
    await whisper(house, place, message);
  }
}

import { hostNotices } from './ask-host.js';
import { receiptNotices } from './ask-receipt.js';
import { roasterMessage } from './ask-roaster.js';
import type { AskView } from './ask-view.js';
import { coffeeBold, dayOf, weight } from './ask-words.js';
import { button, buttons, say } from './blocks.js';
import { mrkdwn } from './escape.js';
import type { Message } from './message.js';
import type { Notice } from './notice.js';

/** Everything that should stand in Slack about one ask, from its state alone. */
export function askNotices(view: AskView): readonly Notice[] {
  return [
    toRoaster(view, '', roasterMessage(view)),
    ...roasterReminders(view),
    ...hostNotices(view),
    ...receiptNotices(view),
  ];
}

function toRoaster(view: AskView, what: string, message: Message): Notice {
  return {
    kind: 'message',
    key: `ask:${view.ask.id}${what}`,
    place: { kind: 'direct', person: view.ask.roaster },
    message,
  };
}

/** Reminders that have fired stay, and say what has become of it since. */
function roasterReminders(view: AskView): readonly Notice[] {
  const { ask, fired } = view;
  const notices: Notice[] = [];
  if (fired.has('ask unanswered')) notices.push(toRoaster(view, ':nudge', nudge(view)));
  if (fired.has('ask day before') || fired.has('ask roast today')) {
    notices.push(toRoaster(view, `:soon:${ask.roastDay}`, soon(view)));
  }
  if (fired.has('ask not recorded')) notices.push(toRoaster(view, `:report:${ask.roastDay}`, report(view)));
  return notices;
}

function nudge(view: AskView): Message {
  const { ask } = view;
  const what = `${coffeeBold(view)} alone on *${dayOf(view, ask.roastDay)}*`;
  if (ask.state !== 'asked') return say(`${what}: answered, thank you.`);
  return say(`${what} is still waiting for your answer, so the table can be planned.`, ...answers(view));
}

function answers(view: AskView) {
  const value = { ask: view.ask.id };
  return buttons(
    button('Accept', 'ask.accept', value, { style: 'primary' }),
    button('Offer another day', 'ask.offer', value),
    button('Decline', 'ask.decline', value),
  );
}

function soon(view: AskView): Message {
  const { ask } = view;
  const drum = ask.drum ? `, ${mrkdwn(ask.drum)}` : '';
  const what = `*${dayOf(view, ask.roastDay)}*: ${coffeeBold(view)} alone, ${weight(view, ask.greenMg)} green${drum}`;
  if (ask.state === 'roasted') return say(`${what}. Roasted, thank you.`);
  if (ask.state !== 'accepted') return say(`${what}. No longer on the plan.`);
  return say(
    `${what}. Please weigh what comes out: the next ask reckons with it.`,
    ...buttons(button('Roasted', 'ask.roasted', { ask: ask.id }, { style: 'primary' })),
  );
}

function report(view: AskView): Message {
  const { ask } = view;
  const what = `${coffeeBold(view)} alone, *${dayOf(view, ask.roastDay)}*`;
  if (ask.state === 'roasted') return say(`${what}: recorded, thank you.`);
  if (ask.state !== 'accepted') return say(`${what}: not roasted.`);
  return say(
    `${what}: was it roasted? Nothing is recorded yet.`,
    ...buttons(
      button('Roasted', 'ask.roasted', { ask: ask.id }, { style: 'primary' }),
      button('Not roasted', 'ask.missed', { ask: ask.id }),
    ),
  );
}

import { button, buttons, say } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import type { Message } from '../../kit/message.js';
import type { Notice } from '../../kit/notice.js';
import { hostNotices } from './ask-host-message.js';
import { receiptNotices } from './ask-receipt-message.js';
import { roasterMessage } from './ask-roaster-message.js';
import type { AskEvent, AskView } from './ask-view-message.js';
import { coffeeBold, dayOf, weight } from './ask-words-message.js';

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

/** Reminders that came stay, and say what has become of it since. */
function roasterReminders(view: AskView): readonly Notice[] {
  return view.events.flatMap((event) => {
    switch (event.reminder) {
      case 'ask unanswered':
        return [toRoaster(view, `:nudge:${event.id}`, nudge(view, event))];
      case 'ask day before':
      case 'ask roast today':
        return [toRoaster(view, `:soon:${event.id}`, soon(view, event))];
      case 'ask not recorded':
        return [toRoaster(view, `:report:${event.id}`, report(view, event))];
      default:
        return [];
    }
  });
}

/** Is the ask still in this state, for the day that the reminder was about? */
function still(view: AskView, event: AskEvent, state: AskView['ask']['state']): boolean {
  return view.ask.state === state && (event.day === null || event.day === view.ask.roastDay);
}

function nudge(view: AskView, event: AskEvent): Message {
  const { ask } = view;
  const what = `${coffeeBold(view)} alone on *${dayOf(view, event.day ?? ask.roastDay)}*`;
  if (!still(view, event, 'asked')) return say(`${what}: no answer is waited for any more, thank you.`);
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

function soon(view: AskView, event: AskEvent): Message {
  const { ask } = view;
  const drum = ask.drum ? `, ${mrkdwn(ask.drum)}` : '';
  const what = `*${dayOf(view, event.day ?? ask.roastDay)}*: ${coffeeBold(view)} alone, ${weight(view, ask.greenMg)} green${drum}`;
  if (ask.state === 'roasted') return say(`${what}. Roasted, thank you.`);
  if (!still(view, event, 'accepted')) return say(`${what}. No longer on the plan.`);
  return say(
    `${what}. Please weigh what comes out: the next ask reckons with it.`,
    ...buttons(button('Roasted', 'ask.roasted', { ask: ask.id }, { style: 'primary' })),
  );
}

function report(view: AskView, event: AskEvent): Message {
  const { ask } = view;
  const what = `${coffeeBold(view)} alone, *${dayOf(view, event.day ?? ask.roastDay)}*`;
  if (ask.state === 'roasted') return say(`${what}: recorded, thank you.`);
  if (!still(view, event, 'accepted')) return say(`${what}: not roasted.`);
  return say(
    `${what}: was it roasted? Nothing is recorded yet.`,
    ...buttons(
      button('Roasted', 'ask.roasted', { ask: ask.id }, { style: 'primary' }),
      button('Not roasted', 'ask.missed', { ask: ask.id }),
    ),
  );
}

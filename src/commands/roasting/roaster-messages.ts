import type { ActionsBlock, KnownBlock } from '@slack/types';
import { formatBp } from '../../domain/measure/hundredths.js';
import { counted, plainList } from '../../domain/measure/plain-list.js';
import type { AskChanged } from '../../domain/record/ask.js';
import { daysAfter, daysBetween } from '../../domain/when/local-day.js';
import { button, buttons, context, say, section, sections } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import { type Message, messageTo, type Notice } from '../../kit/notice.js';
import {
  type AskView,
  answerButtons,
  askersOf,
  coffeeBold,
  colourWords,
  dayOf,
  lastEvent,
  people,
  person,
  tableLine,
  tableNames,
  tablesOf,
  weight,
} from './ask-view-message.js';

/** What the ask's roaster is shown: the ask itself, and every reminder that came. */
export function roasterNotices(view: AskView): readonly Notice[] {
  return [toRoaster(view, '', roasterMessage(view)), ...roasterReminders(view)];
}

function toRoaster({ ask }: AskView, what: string, message: Message): Notice {
  return messageTo(ask.roaster, `ask:${ask.id}${what}`, message);
}

/** What the roaster is reminded of: the part of its notice's key, and the words. */
const REMINDERS = new Map([
  ['ask unanswered', { what: 'nudge', words: nudge }],
  ['ask day before', { what: 'soon', words: soon }],
  ['ask roast today', { what: 'soon', words: soon }],
  ['ask not recorded', { what: 'report', words: report }],
]);

/** Reminders that came stay, and say what has become of it since. */
function roasterReminders(view: AskView): readonly Notice[] {
  return view.events.flatMap((event) => {
    const reminder = REMINDERS.get(event.detail.kind ?? '');
    return reminder ? toRoaster(view, `:${reminder.what}:${event.id}`, reminder.words(view, event)) : [];
  });
}

/** Is the ask still in this state, for the day that the reminder was about? */
function still(view: AskView, event: AskChanged, state: AskView['ask']['state']): boolean {
  return view.ask.state === state && (event.detail.day ?? view.ask.roastDay) === view.ask.roastDay;
}

function nudge(view: AskView, event: AskChanged): Message {
  const { ask } = view;
  const what = `${coffeeBold(view)} alone on *${dayOf(view, event.detail.day ?? ask.roastDay)}*`;
  if (!still(view, event, 'asked')) return say(`${what}: no answer is waited for any more, thank you.`);
  return say(
    `${what} is still waiting for your answer, so the table can be planned.`,
    ...answerButtons(view),
  );
}

function soon(view: AskView, event: AskChanged): Message {
  const { ask } = view;
  const drum = ask.drum ? `, ${mrkdwn(ask.drum)}` : '';
  const what = `*${dayOf(view, event.detail.day ?? ask.roastDay)}*: ${coffeeBold(view)} alone, ${weight(view, ask.greenMg)} green${drum}`;
  if (ask.state === 'roasted') return say(`${what}. Roasted, thank you.`);
  if (!still(view, event, 'accepted')) return say(`${what}. No longer on the plan.`);
  return say(
    `${what}. Please weigh what comes out: the next ask reckons with it.`,
    ...buttons(button('Roasted', 'ask.roasted', { ask: ask.id }, { style: 'primary' })),
  );
}

function report(view: AskView, event: AskChanged): Message {
  const { ask } = view;
  const what = `${coffeeBold(view)} alone, *${dayOf(view, event.detail.day ?? ask.roastDay)}*`;
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

/** Tables shown in the message; the rest is counted, so that it stays one phone screen. */
const MOST_TABLES = 4;
/** Less than this is what the drum’s scale rounds to, and nothing to plan with. */
const SAYABLE_OVER_MG = 10_000;

/**
 * The roaster's message, in the order a roaster reads: which coffee, alone and why, to which colour; green
 * and roasted with the loss used; the day and the reason for it; the table; short notice; the answers.
 */
function roasterMessage(view: AskView): Message {
  const { ask } = view;
  const done = ask.state === 'roasted' || ask.state === 'withdrawn';
  const blocks: KnownBlock[] = done
    ? [section(`${coffeeBold(view)}, roasted alone`)]
    : [section(whichCoffee(view)), section(chargeLines(view)), section(dayLine(view))];
  blocks.push(...sections(tableLines(view)));
  if (!done && ask.favour && (ask.state === 'asked' || ask.state === 'offered'))
    blocks.push(favourLine(view));
  const lines = outcomeLines(view);
  if (lines.length > 0) blocks.push(section(lines.join('\n')));
  blocks.push(...outcomeButtons(view));
  if (view.house.roasterPerson === null && !done) {
    blocks.push(
      context('The house has named no roaster, so this comes to you. Name one: `/spoon house roaster @name`'),
    );
  }
  return { text: summary(view), blocks };
}

/** The message in one sentence, for notifications and screen readers. */
function summary(view: AskView): string {
  const { ask, coffee } = view;
  const name = mrkdwn(coffee.name);
  const day = dayOf(view, ask.roastDay);
  if (ask.state === 'roasted') return `Roasted: ${name}, ${day}.`;
  if (ask.state === 'withdrawn') return `No longer needed: ${name} on ${day}.`;
  const tables = tableNames(view);
  const reason = tables.length > 0 ? `, for ${plainList(tables)}` : '';
  const what = ask.state === 'asked' ? 'Roast ask' : `Roast ask, ${ask.state}`;
  return `${what}: ${name} alone, ${weight(view, ask.greenMg)} green on ${day}${reason}.`;
}

function whichCoffee(view: AskView): string {
  const { coffee } = view;
  const recipes = [...new Set(tablesOf(view).map((table) => mrkdwn(table.recipe)))];
  const tasted = recipes.length > 0 ? `${plainList(recipes)} is tasted coffee by coffee` : null;
  const why = coffee.soldAlone
    ? (tasted ?? 'It is wanted alone')
    : `${tasted ? `${tasted}, and this one` : 'It'} is only ever roasted inside the blend`;
  const colour = coffee.soldAlone
    ? `To its usual colour: ${colourWords(view)}.`
    : `To the colour it has in the blend: ${colourWords(view)}. Alone it will still roast a little differently.`;
  const origin = coffee.origin
    ? ` (${mrkdwn([coffee.origin, coffee.process].filter(Boolean).join(', '))})`
    : '';
  return `Please roast ${coffeeBold(view)}${origin} *alone*. ${why}.\n${colour}`;
}

function chargeLines(view: AskView): string {
  const { ask } = view;
  const drum = ask.drum ? ` in the ${mrkdwn(ask.drum)}` : '';
  const source = lossSource(view);
  const charge = `Charge *${weight(view, ask.greenMg)} green*${drum} → about *${weight(view, ask.roastedMg)} roasted*, at ${formatBp(ask.lossBp)} loss (${source}).`;
  return [charge, ...view.remarks.map(mrkdwn)].join('\n');
}

/** Where the loss comes from that the green weight was worked out with. */
function lossSource(view: AskView): string {
  const { loss, coffee } = view;
  if (loss.batches > 0) return `from its last ${counted(loss.batches, 'roast')} alone`;
  return coffee.lossBp === null
    ? `the house’s figure for ${coffee.level}`
    : 'the figure kept with the coffee';
}

function dayLine(view: AskView): string {
  const { ask } = view;
  const day = dayOf(view, ask.roastDay);
  const rest = ask.reason.startsWith(day) ? ask.reason.slice(day.length) : null;
  if (rest !== null) return `*${day}* ${mrkdwn(rest)}`;
  return ask.reason === '' ? `On *${day}*.` : `On *${day}*. ${mrkdwn(ask.reason)}`;
}

function tableLines(view: AskView): readonly string[] {
  const { ask } = view;
  const wanting = tablesOf(view);
  const shown = wanting
    .slice(0, MOST_TABLES)
    .map((table) => `For ${tableLine(view, table)}: ${weight(view, table.mg)}`);
  if (wanting.length > MOST_TABLES)
    shown.push(`… and ${counted(wanting.length - MOST_TABLES, 'more table')}`);
  const free = ask.free.map((entry) => `For ${person(entry.person)}: ${weight(view, entry.mg)}`);
  const known = ask.state === 'roasted' || view.remarks.some((remark) => remark.includes('will be over'));
  const over =
    ask.overMg >= SAYABLE_OVER_MG && !known ? [`Over: about ${weight(view, ask.overMg)}, for the shelf`] : [];
  const lines = [...shown, ...free.slice(0, MOST_TABLES)];
  return lines.length > 0 ? [...lines, ...over] : [];
}

function favourLine(view: AskView): KnownBlock {
  const notice = daysBetween(view.askedOn, view.ask.roastDay);
  const given = notice <= 0 ? 'for the same day' : `${counted(notice, 'day')} ahead`;
  return context(
    `*Short notice*: asked ${given}, where the house gives ${counted(view.house.noticeDays, 'day')}. ${people([view.ask.createdBy])} asks it as a favour.`,
  );
}

/** What became of the ask so far, for its roaster; empty while it waits for the first answer. */
function outcomeLines(view: AskView): readonly string[] {
  const { ask } = view;
  const day = dayOf(view, ask.roastDay);
  if (ask.state === 'asked') return changedLines(view);
  if (ask.state === 'accepted') {
    const by = lastEvent(view, 'agree') ?? lastEvent(view, 'accept');
    const who = by
      ? by.detail.what === 'agree'
        ? `, agreed with ${person(by.who)}`
        : ` by ${person(by.who)}`
      : '';
    const late = ask.roastDay < view.today ? ['Nothing is recorded yet: was it roasted?'] : [];
    return [`✔ *On the plan for ${day}*${who}.`, ...late];
  }
  if (ask.state === 'offered') {
    return [
      `*${dayOf(view, ask.offeredDay ?? ask.roastDay)}* is on offer; ${people(askersOf(view))} will answer.`,
    ];
  }
  if (ask.state === 'declined') {
    const because = lastEvent(view, 'decline')?.detail.because;
    return [
      `*Declined*${because ? `: ${mrkdwn(because)}` : ''}. ${people(askersOf(view))} will see what to do.`,
    ];
  }
  if (ask.state === 'missed') return [`*Not roasted on ${day}.* If it was after all, say what came out.`];
  if (ask.state === 'withdrawn') return ['*No longer needed*, nothing to do. Thank you!'];
  return roastLines(view);
}

function changedLines(view: AskView): readonly string[] {
  const changed = lastEvent(view, 'joined') ?? lastEvent(view, 'grams');
  const [before, after] = changed?.detail.greenMg ?? [];
  if (before === undefined || after !== view.ask.greenMg || before === after) return [];
  const answered = lastEvent(view, 'accept') ?? lastEvent(view, 'agree');
  const again = answered ? ' You had accepted; please answer once more.' : '';
  return [`_The charge was ${weight(view, before)} green and is now ${weight(view, after)}._${again}`];
}

function roastLines(view: AskView): readonly string[] {
  const { roast } = view;
  if (!roast) return ['*Roasted.*'];
  const colour = [roast.level, roast.colour === null ? null : `colour ${roast.colour}`]
    .filter(Boolean)
    .join(', ');
  const lines = [
    `✔ *Roasted ${dayOf(view, roast.roastedOn)}*: ${weight(view, roast.greenMg)} green in, ${weight(view, roast.roastedMg)} out, ${formatBp(roast.lossBp)} loss${colour ? `, ${mrkdwn(colour)}` : ''}.`,
  ];
  if (roast.oddFromBp !== null) {
    lines.push(
      `That loss is more than 2 points from the ${formatBp(roast.oddFromBp)} this coffee has shown. A slip of the scale, or a different roast? If it is a slip, correct it on the coffee’s card: \`/spoon shelf\``,
    );
  }
  if (roast.remarks) lines.push(`“${mrkdwn(roast.remarks)}”`);
  const drum = view.lossDrum === null ? '' : ` in the ${mrkdwn(view.lossDrum)}`;
  lines.push(`The next ask for it${drum} reckons with ${formatBp(view.loss.lossBp)}.`);
  return lines;
}

/** The answers that are left, the likeliest first. */
function outcomeButtons(view: AskView): readonly ActionsBlock[] {
  const { ask, today } = view;
  const value = { ask: ask.id };
  const offer = button('Offer a different day', 'ask.offer', value);
  const decline = button(ask.state === 'accepted' ? 'Cannot after all' : 'Decline', 'ask.decline', value);
  const near = daysAfter(today, 1) >= ask.roastDay;
  const roasted = button('Roasted', 'ask.roasted', value, near ? { style: 'primary' } : {});
  if (ask.state === 'asked') return answerButtons(view);
  if (ask.state === 'offered') {
    const accept = `Accept ${dayOf(view, ask.roastDay)}`;
    return buttons(offer, button(accept, 'ask.accept', value, { style: 'primary' }), decline);
  }
  if (ask.state === 'accepted') {
    const missed = button('Not roasted', 'ask.missed', value);
    const past = ask.roastDay <= today;
    return buttons(...(near ? [roasted] : []), ...(past ? [missed] : [decline]));
  }
  if (ask.state === 'missed') return buttons(roasted);
  return [];
}

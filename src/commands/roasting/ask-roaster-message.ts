import type { KnownBlock } from '@slack/types';
import { formatBp } from '../../domain/measure/hundredths.js';
import { counted, plainList } from '../../domain/measure/plain-list.js';
import { daysBetween } from '../../domain/when/local-day.js';
import { context, section, sections } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import type { Message } from '../../kit/message.js';
import { outcomeButtons, outcomeLines } from './ask-outcome-message.js';
import type { AskView } from './ask-view-message.js';
import { coffeeBold, colourWords, dayOf, people, person, tableLine, weight } from './ask-words-message.js';

/** Tables shown in the message; the rest is counted, so that it stays one phone screen. */
const MOST_TABLES = 4;
/** Less than this is what the drum’s scale rounds to, and nothing to plan with. */
const SAYABLE_OVER_MG = 10_000;

/**
 * The roaster's message, in the order a roaster reads: which coffee, alone and why, to which colour; green
 * and roasted with the loss used; the day and the reason for it; the table; short notice; the answers.
 */
export function roasterMessage(view: AskView): Message {
  const { ask } = view;
  const done = ask.state === 'roasted' || ask.state === 'withdrawn';
  const blocks: KnownBlock[] = done
    ? [section(`${coffeeBold(view)}, roasted alone`)]
    : [
        section(whichCoffee(view)),
        section(chargeLines(view)),
        section(dayLine(view)),
        ...sections(tableLines(view)),
      ];
  if (done && tableLines(view).length > 0) blocks.push(...sections(tableLines(view)));
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
  const tables = view.tables.filter((table) => table.mg > 0).map((table) => table.name);
  const reason = tables.length > 0 ? `, for ${plainList(tables)}` : '';
  const what = ask.state === 'asked' ? 'Roast ask' : `Roast ask, ${ask.state}`;
  return `${what}: ${name} alone, ${weight(view, ask.greenMg)} green on ${day}${reason}.`;
}

function whichCoffee(view: AskView): string {
  const { coffee, tables } = view;
  const recipes = [...new Set(tables.filter((table) => table.mg > 0).map((table) => mrkdwn(table.recipe)))];
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
  const wanting = view.tables.filter((table) => table.mg > 0);
  const shown = wanting
    .slice(0, MOST_TABLES)
    .map((table) => `For ${tableLine(view, table)}: ${weight(view, table.mg)}`);
  if (wanting.length > MOST_TABLES)
    shown.push(`… and ${counted(wanting.length - MOST_TABLES, 'more table')}`);
  const free = view.free.map((entry) => `For ${person(entry.person)}: ${weight(view, entry.mg)}`);
  const known =
    view.ask.state === 'roasted' || view.remarks.some((remark) => remark.includes('will be over'));
  const over =
    view.ask.overMg >= SAYABLE_OVER_MG && !known
      ? [`Over: about ${weight(view, view.ask.overMg)}, for the shelf`]
      : [];
  const lines = [...shown, ...free.slice(0, MOST_TABLES)];
  return lines.length > 0 ? [...lines, ...over] : [];
}

function favourLine(view: AskView): KnownBlock {
  const notice = daysBetween(view.askedOn, view.ask.roastDay);
  const given = notice <= 0 ? 'for the same day' : `${counted(notice, 'day')} ahead`;
  return context(
    `*Short notice*: asked ${given}, where the house gives ${counted(view.house.noticeDays, 'day')}. ${people([view.askedBy])} asks it as a favour.`,
  );
}

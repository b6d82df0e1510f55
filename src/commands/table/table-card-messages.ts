import type { KnownBlock } from '@slack/types';
import { counted, plainList } from '../../domain/measure/plain-list.js';
import { percentages } from '../../domain/ratio/parts.js';
import { coffeeName, cupContents } from '../../domain/record/table-setting.js';
import { type Cup, cupName, hasNotBegun, tastingName } from '../../domain/record/tasting.js';
import { formatWhen } from '../../domain/when/local-day.js';
import { button, buttons, context, header, section, sections } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import type { Message } from '../../kit/notice.js';
import { isHidden, type TableView } from '../common/table-view.js';

/** The card of a table in its channel: what, when, who, what is in the cups, what is not ready, what is next. */
export function tableCard(view: TableView): Message {
  const { tasting, recipe } = view;
  const name = tastingName(tasting);
  const when = formatWhen(tasting.startsAt, view.house.timeZone);
  const title = `${name} · ${recipe.name}`;
  const blocks: KnownBlock[] = [header(title), section(`*${when}* · host <@${tasting.host}>`)];
  if (tasting.brief) blocks.push(section(`Looking for: ${mrkdwn(tasting.brief)}`));
  blocks.push(...sections(cupLines(view)));
  const missing = missingLines(view);
  if (missing.length > 0) blocks.push(...sections(missing));
  if (tasting.invited.length > 0) blocks.push(context(comingLine(tasting.invited)));
  blocks.push(section(nextLine(view)), ...nextButtons(view));
  return { text: `${mrkdwn(title)}, ${when}. ${spokenState(view)}`, blocks };
}

function cupLines(view: TableView): readonly string[] {
  const { cups, tasting } = view;
  if (isHidden(view)) {
    const codes = tasting.state === 'open' ? `: ${cups.map(cupName).join(', ')}` : '';
    return [`${cups.length} cups, blind${codes}. What is in them is told after closing.`];
  }
  return cups.map((cup) => cupLine(cup, view));
}

function cupLine(cup: Cup, view: TableView): string {
  const poured = cup.kind === 'pour' ? ' · poured' : '';
  return `*${cupName(cup)}*  ${mrkdwn(cupContents(cup, view))}${poured}`;
}

function missingLines(view: TableView): readonly string[] {
  if (!hasNotBegun(view.tasting)) return [];
  const waiting = view.readiness.filter((coffee) => !coffee.there);
  if (waiting.length === 0) return ['Every coffee is here and rested in time.'];
  const asked =
    view.asked.length > 0 ? ` Asked: ${view.asked.map((person) => `<@${person}>`).join(', ')}.` : '';
  if (isHidden(view))
    return [
      `${waiting.length === 1 ? 'One coffee is' : `${waiting.length} coffees are`} still to come.${asked}`,
    ];
  return [`*Not ready yet*${asked}`, ...waiting.map((coffee) => `• ${mrkdwn(coffee.said)}`)];
}

function comingLine(invited: readonly string[]): string {
  const shown = invited.slice(0, 40).map((person) => `<@${person}>`);
  const more = invited.length > 40 ? ` and ${invited.length - 40} more` : '';
  return `Coming: ${shown.join(' ')}${more}`;
}

function nextLine(view: TableView): string {
  const { tasting, counts } = view;
  const progress = counts.notes > 0 ? ` ${notesSoFar(counts)}` : '';
  switch (tasting.state) {
    case 'booked':
    case 'ready':
      return 'When the cups are poured, the host opens the table: every cup then gets its own thread.';
    case 'open':
      return `*Open.* Reply under each cup with what you taste, in your own words. Or reply here and name the cup: “${exampleCup(view)}: lemon, light body”. Slips are mended by editing.${progress}`;
    case 'closed':
      return `*Closed.*${progress} The host decides next and posts the digest. Notes written now are kept, marked late.`;
    case 'decided':
      return `*Decided.*${progress} The digest stands in this channel.`;
    case 'cancelled':
      return view.cancelledBy ? `*Cancelled* by <@${view.cancelledBy}>.` : '*Cancelled.*';
  }
}

function exampleCup(view: TableView): string {
  const cup = view.cups[Math.min(2, view.cups.length - 1)];
  return cup ? cupName(cup) : 'C';
}

function notesSoFar({ notes, tasters }: TableView['counts']): string {
  return `${counted(notes, 'note')} from ${counted(tasters, 'taster')}.`;
}

function nextButtons(view: TableView): readonly KnownBlock[] {
  const value = { tasting: view.tasting.id };
  switch (view.tasting.state) {
    case 'booked':
    case 'ready':
      return buttons(
        button('Open the table', 'table.open', value, { style: 'primary' }),
        button('Table sheet', 'table.sheet', value),
        button('Add a ratio', 'pour.form', value),
        button('Move or cancel', 'book.change', value),
      );
    case 'open':
      return buttons(
        button('Write a note', 'note.form', value, { style: 'primary' }),
        button('Pour a ratio', 'pour.form', value),
        button('Show the tally', 'tally.show', value),
        button('Close the table', 'table.close', value),
      );
    case 'closed':
      return buttons(
        button('Decide', 'digest.form', value, { style: 'primary' }),
        button('Reopen', 'table.reopen', value),
        button('My notes', 'note.form', value),
      );
    case 'decided':
      return buttons(button('My notes', 'note.form', value));
    case 'cancelled':
      return [];
  }
}

function spokenState(view: TableView): string {
  const { tasting } = view;
  const waiting = view.readiness.filter((coffee) => !coffee.there);
  if (hasNotBegun(tasting)) {
    if (waiting.length === 0) return 'Every coffee is here.';
    if (isHidden(view)) return 'Not every coffee is here yet.';
    return `Not ready yet: ${plainList(waiting.map((coffee) => coffee.name))}.`;
  }
  if (tasting.state === 'open') return 'The table is open: reply under each cup.';
  return tasting.state === 'closed'
    ? 'The table is closed.'
    : tasting.state === 'decided'
      ? 'Decided.'
      : 'Cancelled.';
}

/** One cup's card: the thread under it is about this cup. */
export function cupCard(cup: Cup, view: TableView): Message {
  const table = tastingName(view.tasting);
  const name = cupName(cup);
  const contents = isHidden(view) ? '' : ` · ${mrkdwn(cupContents(cup, view))}`;
  const blocks: KnownBlock[] = [section(`*Cup ${name}*${contents}`)];
  if (!isHidden(view)) blocks.push(...made(cup, view));
  if (view.tasting.state === 'open') {
    blocks.push(
      context(`${table} · Reply here with what you taste in this cup.`),
      ...buttons(button('Write a note', 'note.form', { tasting: view.tasting.id, cup: cup.id })),
    );
  } else blocks.push(context(`${table} · ${view.tasting.state === 'cancelled' ? 'cancelled' : 'closed'}`));
  const spoken = isHidden(view) ? '' : `, ${mrkdwn(cupContents(cup, view))}`;
  return { text: `Cup ${name}${spoken}. Reply in this thread with what you taste.`, blocks };
}

function made(cup: Cup, view: TableView): readonly KnownBlock[] {
  if (cup.kind === 'component') {
    const coffee = view.coffees.get(cup.parts[0]?.coffeeId ?? 0);
    const facts = [coffee?.origin, coffee?.process, coffee?.role].filter(
      (fact) => fact !== null && fact !== undefined,
    );
    return facts.length > 0 ? [context(mrkdwn(facts.join(', ')))] : [];
  }
  const shares = percentages(
    cup.parts.map((part) => part.parts),
    1,
  );
  const line = cup.parts
    .map((part, index) => `${mrkdwn(coffeeName(view.coffees, part.coffeeId))} ${shares[index] ?? 0} %`)
    .join(', ');
  const poured = cup.kind === 'pour' ? ' Spooned together at the table: a preview, not a weighed blend.' : '';
  return [context(`${line}.${poured}`)];
}

import type { KnownBlock, ModalView } from '@slack/types';
import { counted } from '../../domain/measure/plain-list.js';
import { formatWeight, type UnitSystem } from '../../domain/measure/weight.js';
import { type Tasting, tastingName } from '../../domain/record/tasting.js';
import type { SheetCup, TableSheet } from '../../domain/table/table-sheet.js';
import { button, buttons, context, header, say, section, sections } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import { form } from '../../kit/form.js';
import type { Message, Notice } from '../../kit/notice.js';

export const SHEET_PAGES = ['times', 'orders', 'set out', 'totals'] as const;
type SheetPage = (typeof SHEET_PAGES)[number];

export type SheetView = {
  readonly tastingId: number;
  readonly sheet: TableSheet;
  readonly units: UnitSystem;
  /** What is in the cups may be seen: always, but for the host alone while a table is blind. */
  readonly open: boolean;
  readonly canOpenTable: boolean;
};

/** The table sheet in chat: doses and weighings first, the rest behind taps. */
export function tableSheetMessage(view: SheetView): Message {
  const { sheet, units } = view;
  const { dose } = sheet;
  const title = `Table sheet ${sheet.name} · ${sheet.blendName}`;
  const doseLine = `${vesselWords(sheet)}: *${formatWeight(dose.doseMg, units)}* coffee to *${dose.waterMl} mL* water (${sheet.gramsPerLitre} g/L).`;
  const blocks: KnownBlock[] = [
    header(title),
    section(`${mrkdwn(sheet.when)}, host ${sheet.host}.\n${doseLine}`),
  ];
  blocks.push(
    ...sections(
      view.open
        ? sheet.cups.map((cup) => cupLine(sheet, cup, units))
        : ['Blind: what is in the cups is on the host’s sheet alone.'],
    ),
  );
  if (sheet.remarks.length > 0 && view.open) blocks.push(context(...sheet.remarks.map(mrkdwn)));
  blocks.push(section(sheet.cautions.map((caution) => `⚠️ ${mrkdwn(caution)}`).join('\n')));
  const page = (label: string, which: SheetPage, index: number) =>
    button(label, `table.more#${index}`, { tasting: view.tastingId, page: which });
  const pages = [
    page('Clock times', 'times', 0),
    page('Who tastes in which order', 'orders', 1),
    page('What to set out', 'set out', 2),
    page('Totals', 'totals', 3),
  ];
  const print = button('Print it (PDF)', 'table.print', { tasting: view.tastingId });
  blocks.push(...buttons(...pages, print));
  if (view.canOpenTable)
    blocks.push(
      ...buttons(button('Open the table', 'table.open', { tasting: view.tastingId }, { style: 'primary' })),
    );
  return { text: `${mrkdwn(title)}. ${sheet.when}. ${doseLine.replaceAll('*', '')}`, blocks };
}

/** "2 bowls of each cup", "One batch of each cup, on each of 2 tables". */
function vesselWords({ dose, format, tables }: TableSheet): string {
  const each = tables > 1 ? `, on each of ${tables} tables` : '';
  if (format === 'brewed') return `One batch of each cup${each}`;
  return `${counted(dose.vessels, 'bowl')} of each cup${each}`;
}

/** A blend's grams say what it is; its scoops rebuild it at the table. */
function cupLine(sheet: TableSheet, cup: SheetCup, units: UnitSystem): string {
  const head = `*${cup.name}*  ${mrkdwn(cup.what)}`;
  if (cup.kind === 'pour') return `${head} · ${scoopWords(cup)}`;
  if (cup.weigh.length < 2) return head;
  const vessel = sheet.format === 'brewed' ? 'batch' : 'bowl';
  const weighed = cup.weigh.map((part) => `${mrkdwn(part.name)} ${formatWeight(part.mg, units)}`).join(' + ');
  return `${head}\n      each ${vessel}: ${weighed}`;
}

function scoopWords(cup: SheetCup): string {
  if (!cup.scoops) return 'poured';
  const { scoops, worstErrorPoints } = cup.scoops;
  return `scoops ${scoops.join(':')}${worstErrorPoints < 0.05 ? '' : ` (within ${worstErrorPoints.toFixed(1)} points)`}`;
}

/** One line for each taster, under their table where there are several. */
function orderLines({ orders, tables }: TableSheet): readonly string[] {
  return orders.flatMap((order, index) => {
    const line = `${order.taster}: ${order.cups.join(' → ')}`;
    const first = tables > 1 && orders[index - 1]?.table !== order.table;
    return first ? [`*Table ${order.table}*`, line] : [line];
  });
}

/** One page of the sheet, opened from its message. */
export function sheetPageView(view: SheetView, page: SheetPage): ModalView {
  const { sheet } = view;
  return form('table.page', `Table sheet ${sheet.name}`, null, pageBlocks(view, page));
}

function pageBlocks({ sheet, units, open }: SheetView, page: SheetPage): readonly KnownBlock[] {
  switch (page) {
    case 'times':
      return [
        header('Clock times'),
        ...sections(sheet.timeline.map((moment) => `*${moment.clock}*  ${mrkdwn(moment.what)}`)),
      ];
    case 'orders':
      return [
        header('Who tastes in which order'),
        ...sections(orderLines(sheet)),
        context(mrkdwn(sheet.orderNote)),
      ];
    case 'set out':
      return [
        header('What to set out, in order'),
        ...sections(sheet.setOut.map((line, index) => `${index + 1}. ${mrkdwn(line)}`)),
      ];
    case 'totals':
      return [
        header('Totals of each coffee'),
        ...(open || sheet.totals.length > 0
          ? sections(
              sheet.totals.map(
                (total) =>
                  `*${mrkdwn(total.name)}*: ${formatWeight(total.totalMg, units)} to have ready (${formatWeight(total.tableMg, units)} in cups, ${formatWeight(total.purgeMg, units)} purge, the rest spare)`,
              ),
            )
          : []),
      ];
  }
}

/** A print that was asked for: its content, and whether it is for the host alone. */
type SheetPrint = {
  readonly id: number;
  readonly hash: string;
  readonly to: 'host' | 'thread';
  readonly content: unknown;
};

/** The printed sheet as a file, shared once: with the host alone while the table is blind, else in its thread. */
export function sheetFileNotice(tasting: Pick<Tasting, 'id' | 'number' | 'host'>, print: SheetPrint): Notice {
  const name = tastingName(tasting);
  const secret = print.to === 'host' ? ' It names what is behind the codes: keep page two face down.' : '';
  return {
    kind: 'file',
    key: `sheet:${tasting.id}:${print.hash}:${print.id}`,
    place:
      print.to === 'host'
        ? { kind: 'direct', person: tasting.host }
        : { kind: 'thread', under: `table:${tasting.id}` },
    file: {
      name: `table-sheet-${name}.pdf`,
      title: `Table sheet ${name}`,
      comment: `The table sheet of ${name}, two pages of A4. Page one lies on the table, page two is for whoever weighs.${secret}`,
      content: { kind: 'table sheet', sheet: print.content },
    },
  };
}

/** Where the printed sheet will stand, or stands already. */
export function printedMessage(
  tasting: Pick<Tasting, 'id' | 'number' | 'channel'>,
  to: SheetPrint['to'],
  already: boolean,
): Message {
  const where =
    to === 'host'
      ? 'in our direct messages'
      : `in the thread of *${tastingName(tasting)}* in <#${tasting.channel}>`;
  if (!already) return say(`The sheet is being drawn. You find it ${where} in a moment.`);
  return say(
    `Nothing on the sheet has changed since it was last printed. It stands ${where}.`,
    ...buttons(button('Share it again', 'table.print#again', { tasting: tasting.id, again: true })),
  );
}

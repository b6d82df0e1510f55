import type { KnownBlock, ModalView } from '@slack/types';
import type { UnitSystem } from '../domain/measure/format-weight.js';
import { formatWeight } from '../domain/measure/format-weight.js';
import type { SheetCup, TableSheet } from '../domain/table/table-sheet.js';
import { button, buttons, context, header, section, sections } from './blocks.js';
import { mrkdwn } from './escape.js';
import { form } from './form.js';
import type { Message } from './message.js';

export const SHEET_PAGES = ['times', 'orders', 'set out', 'totals'] as const;
export type SheetPage = (typeof SHEET_PAGES)[number];

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
  const vessel = dose.format === 'cupping' ? `${dose.vessels} bowls of each` : 'one batch of each';
  const doseLine = `*${formatWeight(dose.doseMg, units)}* coffee, *${dose.waterMl} mL* water (${sheet.gramsPerLitre} g/L), ${vessel}${sheet.tables > 1 ? `, on each of ${sheet.tables} tables` : ''}.`;
  const blocks: KnownBlock[] = [
    header(title),
    section(`${mrkdwn(sheet.when)} · pour at the start.\n${doseLine}`),
  ];
  blocks.push(
    ...sections(
      view.open
        ? sheet.cups.map((cup) => cupLine(cup, units))
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
  return { text: `${title}. ${sheet.when}. ${doseLine.replaceAll('*', '')}`, blocks };
}

function cupLine(cup: SheetCup, units: UnitSystem): string {
  const head = `*${cup.name}*  ${mrkdwn(cup.what)}`;
  if (cup.kind === 'pour') return `${head} · ${scoopWords(cup)}`;
  if (cup.weigh.length < 2) return head;
  const weighed = cup.weigh.map((part) => `${mrkdwn(part.name)} ${formatWeight(part.mg, units)}`).join(' + ');
  return `${head}\n      per bowl ${weighed}`;
}

function scoopWords(cup: SheetCup): string {
  if (!cup.scoops) return 'poured';
  const { scoops, worstErrorPoints } = cup.scoops;
  return `scoops ${scoops.join(':')}${worstErrorPoints < 0.05 ? '' : ` (within ${worstErrorPoints.toFixed(1)} points)`}`;
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
        ...sections(sheet.orders.map((order) => `${order.taster}: ${order.cups.join(' → ')}`)),
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

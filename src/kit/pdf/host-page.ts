import { formatGrams, formatWeight, type UnitSystem } from '../../domain/measure/weight.js';
import type { SheetCup, TableSheet } from '../../domain/table/table-sheet.js';
import { type Column, grid, heading, putText, rule, type SheetPage } from './sheet-page.js';

/**
 * Page two, for the host: what is in each cup, what to weigh, totals and what to set out.
 *
 * @returns whether all of it fits the page
 */
export function drawHostPage(page: SheetPage, sheet: TableSheet, unitSystem: UnitSystem): boolean {
  let y = drawTitle(page, sheet);
  y = drawWeighing(page, sheet, y);
  y = drawTotals(page, sheet, y + 6, unitSystem);
  y = heading(page, sheet.tables > 1 ? 'Set out, on each table' : 'Set out, in this order', y + 6);
  for (const [index, line] of sheet.setOut.entries()) {
    putText(page, `${index + 1}.`, page.left, y, 16, { pale: true });
    y += putText(page, line, page.left + 18, y, page.width - 18) + 3;
  }
  for (const remark of sheet.remarks)
    y += putText(page, remark, page.left, y + 4, page.width, { pale: true }) + 3;
  return y <= page.bottom;
}

function drawTitle(page: SheetPage, sheet: TableSheet): number {
  const { width } = page;
  let y = page.left;
  const title = `${sheet.blendName} · ${sheet.name} · for the host`;
  y += putText(page, title, page.left, y, width, { size: 15, bold: true });
  const secret = 'Names the coffees behind the codes: keep it face down.';
  if (sheet.blind) y += putText(page, secret, page.left, y + 2, width, { size: 10, bold: true }) + 2;
  const { dose } = sheet;
  const vessels =
    sheet.format === 'cupping' ? `${dose.vessels} bowls of each sample` : 'one batch of each sample';
  const line = `${sheet.when} · ${formatGrams(dose.doseMg)} coffee to ${dose.waterMl} mL water (${sheet.gramsPerLitre} g/L) · ${vessels}`;
  y += putText(page, line, page.left, y + 3, width, { size: 9, pale: true }) + 9;
  rule(page, y);
  return y + 8;
}

function drawWeighing(page: SheetPage, sheet: TableSheet, from: number): number {
  const vessel = sheet.format === 'cupping' ? 'bowl' : 'batch';
  const y = heading(page, `Weigh for one ${vessel}, to ${formatGrams(sheet.scaleStepMg)}`, from);
  const columns: readonly Column[] = [
    { title: sheet.blind ? 'Code' : 'Cup', share: 1.2, align: 'left' },
    ...sheet.totals.map((coffee) => ({ title: coffee.name, share: 2, align: 'right' as const })),
    { title: 'Together', share: 1.5, align: 'right' },
    { title: 'Scoops', share: 1.8, align: 'right' },
  ];
  const rows = sheet.cups.map((cup) => [
    sheet.blind ? `${cup.name} (${cup.label})` : cup.name,
    ...sheet.totals.map((coffee) => gramsOf(cup, coffee.coffeeId)),
    cup.weigh.length === 0
      ? 'poured'
      : formatGrams(cup.weigh.reduce((sum, weighing) => sum + weighing.mg, 0)),
    scoopWords(cup),
  ]);
  const after = grid(page, columns, rows, y, columns.length > 7 ? 7.5 : 9);
  const hint = `Weigh whole beans for each ${vessel} and grind each on its own; scoops rebuild a ratio at the table, less exactly.`;
  return after + putText(page, hint, page.left, after, page.width, { size: 8, pale: true }) + 4;
}

function drawTotals(page: SheetPage, sheet: TableSheet, from: number, unitSystem: UnitSystem): number {
  const y = heading(page, 'Have ready, roasted and rested', from);
  const columns: readonly Column[] = [
    { title: 'Coffee', share: 2.4, align: 'left' },
    { title: 'In the cups', share: 1.4, align: 'right' },
    { title: 'Grinder purge', share: 1.4, align: 'right' },
    { title: 'With repeats and spare', share: 2, align: 'right' },
  ];
  const rows = sheet.totals.map((coffee) => [
    coffee.name,
    formatGrams(coffee.tableMg),
    formatGrams(coffee.purgeMg),
    formatWeight(coffee.totalMg, unitSystem),
  ]);
  return grid(page, columns, rows, y, 9);
}

function gramsOf(cup: SheetCup, coffeeId: number): string {
  const weighing = cup.weigh.find((entry) => entry.coffeeId === coffeeId);
  return weighing ? formatGrams(weighing.mg) : '';
}

function scoopWords(cup: SheetCup): string {
  if (cup.scoops === null) return '';
  const error = cup.scoops.worstErrorPoints;
  return `${cup.scoops.scoops.join(' : ')}${error > 0.05 ? ` (±${error.toFixed(1)})` : ''}`;
}

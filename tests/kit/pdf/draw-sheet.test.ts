import { describe, expect, test } from 'vitest';
import { tableSheet } from '../../../src/domain/table/table-sheet.js';
import { tableSheetPdf } from '../../../src/kit/pdf/draw-sheet.js';
import { FERNHOLLOW, harbourLampTable } from '../../domain/table/harbour-lamp.js';
import { pdfPages, readPdf } from './read-pdf.js';

const MADE_AT = new Date('2026-11-26T09:00:00Z');

async function printed(blind: boolean) {
  return tableSheetPdf(tableSheet(harbourLampTable(blind), FERNHOLLOW), 'metric', MADE_AT);
}

describe('the printed table sheet', () => {
  test('has two A4 pages: one for the table, one for the host', async () => {
    const { pages } = readPdf(await printed(false));
    expect(pages).toHaveLength(2);
    for (const { width, height } of pages) {
      // A4 is 210 × 297 mm (ISO 216), in points of 1/72 inch.
      expect(width).toBeCloseTo((210 / 25.4) * 72, 0);
      expect(height).toBeCloseTo((297 / 25.4) * 72, 0);
    }
  });

  test('says on page one when to pour and break, and warns of scalds', async () => {
    const [first = ''] = pdfPages(await printed(false));
    expect(first).toContain('Harbour Lamp · T4');
    expect(first).toContain('Friday 27 November, 14:00');
    expect(first).toMatch(/14:04\s+Break the crust/u);
    expect(first).toContain('Scalds');
    expect(first).toMatch(/Noor(?: [A-E]){5}/u);
  });

  test('says on page two what to weigh, adding up to the dose', async () => {
    const [, second = ''] = pdfPages(await printed(false));
    // 207 mL at 55 g/L are 11.4 g; 50/30/20 of it 5.7 + 3.4 + 2.3 g; 2:1:1 5.7 + 2.9 + 2.8 g (by hand).
    expect(second).toContain('D 5.7 g 3.4 g 2.3 g 11.4 g');
    expect(second).toContain('E 5.7 g 2.9 g 2.8 g 11.4 g');
    expect(second).toContain('5 : 3 : 2');
  });

  test('names no coffee on page one when blind, and no letter that could be one', async () => {
    const [first = '', second = ''] = pdfPages(await printed(true));
    for (const name of ['Chirinos', 'Kayanza', 'Nubosa', 'Peru', '50']) expect(first).not.toContain(name);
    for (const code of ['417', '862', '259', '634', '391']) expect(first).toContain(code);
    expect(second).toContain('keep it face down');
    expect(second).toContain('Chirinos');
  });

  test('tells nothing of the machine that made it', async () => {
    const { info } = readPdf(await printed(false));
    expect(info).toMatchObject({
      Title: 'Harbour Lamp T4: table sheet',
      Producer: 'Tallyspoon',
      Creator: 'Tallyspoon',
    });
    expect(info['CreationDate']).toMatch(/^D:20261126090000/u);
  });

  test('keeps to two pages with a full table and a large group', async () => {
    const plan = harbourLampTable(false);
    const ratios = Array.from({ length: 7 }, (_, index) => ({
      label: String.fromCharCode(70 + index),
      code: null,
      kind: 'ratio' as const,
      parts: [1, 2, 3].map((coffeeId) => ({ coffeeId, parts: 10 + index * coffeeId })),
      droppedAt: null,
    }));
    const tasters = Array.from({ length: 24 }, (_, index) => `Guest ${index + 1}`);
    const sheet = tableSheet({ ...plan, cups: [...plan.cups, ...ratios], tasters, tables: 2 }, FERNHOLLOW);
    const pages = pdfPages(await tableSheetPdf(sheet, 'pounds', MADE_AT));
    expect(pages).toHaveLength(2);
    expect(pages[0]).toContain('Guest 24');
    expect(pages[0]).toContain('trained people come first');
    expect(pages[1]).toContain('oz');
  });
});

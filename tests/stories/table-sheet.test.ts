import { afterEach, expect, test } from 'vitest';
import { drawSheet } from '../../src/kit/pdf/draw-sheet.js';
import type { Message } from '../../src/local/api-types.js';
import { pdfPages } from '../kit/pdf/read-pdf.js';
import type { StoryHouse } from './start-house.js';
import { BOOKING, card, openTable, startStory, wordsOf } from './tell.js';

let house: StoryHouse;
afterEach(() => house.stop());

const PRINT = /Table sheet|table sheet/;

async function sheetOf(person = 'ines', words = '/spoon table T1'): Promise<Message> {
  const { response } = await house.as(person).command(words);
  if (!response) throw new Error('nothing was answered');
  return response;
}

/** The answer to a tap, which only that person sees. */
async function tapped(person: string, message: Message, action: string): Promise<string> {
  const [before, direct] = [await house.as(person).messages(), await house.as(person).direct()];
  await house.as(person).tap(message, action);
  const seen = new Set([...before, ...direct].map(({ ts }) => ts));
  const after = [...(await house.as(person).messages()), ...(await house.as(person).direct())];
  return after
    .filter(({ ts, ephemeral }) => ephemeral && !seen.has(ts))
    .map(wordsOf)
    .join('\n');
}

const filesIn = (messages: readonly Message[]) =>
  messages.flatMap(({ files, text }) => files.map((file) => ({ ...file, comment: text })));

async function pagesOf(url: string): Promise<readonly string[]> {
  const answer = await fetch(new URL(url, house.workspace.url));
  return pdfPages(Buffer.from(await answer.arrayBuffer()));
}

test('the sheet is printed as a PDF in the table’s thread, with names as people know them, once', async () => {
  house = await startStory({ drawSheet });
  const noor = house.as('noor');
  await house.as('ines').command(BOOKING);
  const table = await card(house, 'T1 ·');
  expect(await tapped('ines', await sheetOf(), 'table.print')).toContain('in the thread of *T1*');
  const [file, ...more] = filesIn(await noor.thread(table.ts));
  if (!file) throw new Error('no file');
  expect(more).toEqual([]);
  expect(file).toMatchObject({ name: 'table-sheet-T1.pdf', title: 'Table sheet T1' });
  expect(file.comment).toContain('Page one lies on the table');
  const [first = '', second = ''] = await pagesOf(file.url);
  expect(first).toContain('host ines');
  for (const name of ['noor', 'teo', 'mika', 'sol', 'wren', 'jun'])
    expect(first).toMatch(new RegExp(`${name}\\b`));
  expect(first + second).not.toContain('<@');
  // 207 mL at 55 g/L are 11.4 g; half, 30 % and 20 % of it to 0.1 g (by hand).
  expect(second).toContain('5.7 g 3.4 g 2.3 g 11.4 g');

  expect(await tapped('ines', await sheetOf(), 'table.print')).toContain('Nothing on the sheet has changed');
  expect(filesIn(await noor.thread(table.ts))).toHaveLength(1);
  await house.as('ines').command('/spoon pour T1 3:2:1');
  await tapped('ines', await sheetOf(), 'table.print');
  expect(filesIn(await noor.thread(table.ts))).toHaveLength(2);
});

test('an unchanged sheet is shared again when that is wanted', async () => {
  house = await startStory({ drawSheet: async () => Buffer.from('%PDF-1.7') });
  await house.as('ines').command(BOOKING);
  const table = await card(house, 'T1 ·');
  await sheetOf('ines', '/spoon table T1 print');
  const pointer = await sheetOf('ines', '/spoon table T1 print');
  expect(wordsOf(pointer)).toContain('Share it again');
  await house.as('ines').tap(pointer, 'table.print#again');
  expect(filesIn(await house.as('noor').thread(table.ts))).toHaveLength(2);
});

test('while a table is blind its printed sheet goes to the host alone, and nobody else can print it', async () => {
  house = await startStory({ drawSheet });
  await openTable(house, `${BOOKING} blind`);
  const refused = await sheetOf('noor', '/spoon table T1 print');
  expect(wordsOf(refused)).toContain('is blind');
  const table = await card(house, 'T1 ·');
  await sheetOf('ines', '/spoon table T1 print');
  const [file] = filesIn(await house.as('ines').direct());
  if (!file) throw new Error('no file');
  const [first = '', second = ''] = await pagesOf(file.url);
  for (const name of ['Chirinos', 'Kayanza', 'Nubosa', '2:1:1']) {
    expect(first).not.toContain(name);
    expect(file.title + file.name).not.toContain(name);
  }
  expect(second).toContain('keep it face down');
  expect(second).toContain('Chirinos');
  expect(filesIn(await house.as('noor').thread(table.ts))).toEqual([]);
  expect(filesIn(await house.as('noor').messages())).toEqual([]);

  await house.as('ines').tap(table, 'table.close');
  await sheetOf('noor', '/spoon table T1 print');
  expect(filesIn(await house.as('noor').thread(table.ts))).toHaveLength(1);
});

test('the sheet in chat reads on a phone: doses and grams first, cautions, the rest behind a tap', async () => {
  house = await startStory();
  await house.as('ines').command(BOOKING);
  const sheet = wordsOf(await sheetOf());
  expect(sheet).toContain('2 bowls of each cup: *11.4 g* coffee to *207 mL* water (55 g/L).');
  expect(sheet).toContain('each bowl: Chirinos 5.7 g + Kayanza Hill 3.4 g + Nubosa Natural 2.3 g');
  expect(sheet).toMatch(PRINT);
  for (const caution of ['Scalds', 'Shared bowls', 'Caffeine', 'Allergens']) expect(sheet).toContain(caution);
});

test('roast ages that differ by more than a day are said on the sheet', async () => {
  house = await startStory();
  await house.as('ines').command(BOOKING);
  expect(wordsOf(await sheetOf())).not.toContain('Roast ages differ');
  await openTableWithChirinosOfThursday();
  expect(wordsOf(await sheetOf())).toMatch(/Roast ages differ: .*Chirinos 1 day off the roast/);
});

async function openTableWithChirinosOfThursday(): Promise<void> {
  const bram = house.as('bram');
  const [ask] = await bram.direct();
  if (!ask) throw new Error('no ask');
  await bram.tap(ask, 'ask.accept');
  await house.moveTo(new Date('2026-11-12T11:00:00Z'));
  const due = (await bram.direct()).find((message) => JSON.stringify(message.blocks).includes('ask.roasted'));
  if (!due) throw new Error('nothing to report');
  await bram.tap(due, 'ask.roasted');
  await bram.submit({ roasted: '238 g' });
}

test('several brewed tables brew for their own share of the tasters, and the shelf gives just that', async () => {
  house = await startStory();
  await house.as('ines').command(`${BOOKING} brewed tables 2`);
  const sheet = await sheetOf();
  // Three at each table and one serving over, 45 mL each, 180 mL; the grounds keep 110 mL of each litre:
  // 202.2, brewed with 210 mL; at 55 g/L 11.55, to 0.1 g 11.6 g (by hand).
  expect(wordsOf(sheet)).toContain(
    'One batch of each cup, on each of 2 tables: *11.6 g* coffee to *210 mL* water',
  );
  await house.as('ines').tap(sheet, 'table.more#1');
  const orders = JSON.stringify((await house.as('ines').form()).blocks);
  expect(orders).toMatch(/Table 1.*Table 2/);
  await house.as('ines').tap(sheet, 'table.more#3');
  const totals = JSON.stringify((await house.as('ines').form()).blocks);
  const [, grams] = /Chirinos\*: ([\d.]+) g to have ready/.exec(totals) ?? [];
  expect(grams).not.toBe(undefined);
  expect(wordsOf(await card(house, 'T1 ·'))).toContain(`Chirinos: ${grams} g to roast`);
});

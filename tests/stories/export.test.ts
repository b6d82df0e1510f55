import { readFileSync } from 'node:fs';
import Papa from 'papaparse';
import { afterEach, expect, test } from 'vitest';
import { z } from 'zod';
import type { Message } from '../../src/local/api-types.js';
import type { StoryHouse } from './start-house.js';
import { BOOKING, card, openTable, startStory, wordsOf } from './tell.js';

let house: StoryHouse;
afterEach(() => house.stop());

const NAMES = ['noor', 'teo', 'mika', 'sol', 'wren', 'jun', 'ines'];

test('a closed table is exported into its thread, and the figures in it are those of the table', async () => {
  house = await startStory();
  const table = await openTable(house);
  await house.as('noor').say('D: dark chocolate, lemon', table.ts);
  await house.as('teo').say('D: dark chocolate, not sour', table.ts);
  await house.as('sol').say('D: lemon, frobnicated', table.ts);
  await house.as('sol').say('D: no lemon', table.ts);
  for (const who of NAMES.slice(0, 6)) await house.as(who).say('E > D > F', table.ts);
  await house.as('jun').say('F 9/9, D 7/9, E 2/9', table.ts);
  await house.as('ines').tap(table, 'table.close');
  const answer = await house.as('ines').command('/spoon tally T1 export');
  expect(answer.response?.text).toContain('in its thread');

  const files = await filesIn(await house.as('teo').thread(table.ts));
  expect([...files.keys()]).toEqual([
    'T1-tally.csv',
    'T1-notes.csv',
    'T1-placings.csv',
    'T1-standings.csv',
    'T1-trace.csv',
    'T1-all.json',
  ]);
  const tally = rowsOf(files, 'T1-tally.csv').filter(
    (row) => row['cup'] === 'D' && row['level'] === 'attribute',
  );
  // Three noted D; two stand by dark chocolate, one by lemon, for Sol took it back. 2/3 = 0.6667; Wilson (1927)
  // at 95 %: (2/3 + z²/6 ± z √(2/27 + z²/36)) / (1 + z²/3) with z = 1.96: 0.2077 to 0.9385.
  expect(tally.find((row) => row['name'] === 'dark chocolate')).toMatchObject({
    tasters: '2',
    noted: '3',
    share: '0.6667',
    share_low: '0.2077',
    share_high: '0.9385',
    holds: 'Harbour Lamp 50/30/20',
  });
  expect(tally.find((row) => row['name'] === 'lemon')).toMatchObject({ tasters: '1', denied: '1' });

  const notes = rowsOf(files, 'T1-notes.csv');
  expect(notes.filter((row) => row['says'] === 'denied').map((row) => row['attribute'])).toEqual(
    expect.arrayContaining(['sour', 'lemon']),
  );
  expect(notes.filter((row) => row['says'] === 'unknown').map((row) => row['words'])).toEqual([
    'frobnicated',
  ]);

  // Five put E, D, F in this order and Jun, whose latest word counts, F, D, E: rank sums D 12, E 8, F 16.
  // Least significant rank difference at 5 %: 1.96 √(6 × 3 × 4 / 6) = 6.79 (ISO 8587).
  const standings = rowsOf(files, 'T1-standings.csv');
  expect(standings.map((row) => [row['cup'], row['place'], row['rank_sum'], row['mean_rank']])).toEqual([
    ['E', '1', '8', '1.3333'],
    ['D', '2', '12', '2'],
    ['F', '3', '16', '2.6667'],
  ]);
  expect(standings[0]?.['least_significant_rank_difference']).toBe('6.79');
  // Sign test five to one: 2 × (1 + 6) / 64 = 0.21875, by Holm over two ratios 0.4375.
  expect(standings[1]).toMatchObject({
    winner_over_it: '5',
    it_over_winner: '1',
    p: '0.21875',
    p_holm: '0.4375',
  });

  const placings = rowsOf(files, 'T1-placings.csv');
  const juns = placings.filter((row) => row['liking'] !== '');
  expect(juns.map((row) => [row['cup'], row['rank'], row['liking']])).toEqual([
    ['D', '2', '7'],
    ['E', '3', '2'],
    ['F', '1', '9'],
  ]);
  const everything = z.looseObject({ tally: z.array(z.unknown()), notes: z.array(z.unknown()) });
  const json = everything.parse(JSON.parse(files.get('T1-all.json') ?? ''));
  expect(json.notes).toHaveLength(notes.length);
  expect(json.tally).toHaveLength(rowsOf(files, 'T1-tally.csv').length);
});

test('the trace is exported with its interval, and docs/exports.md says what every column holds', async () => {
  house = await startStory();
  const table = await openTable(house);
  for (const who of NAMES.slice(0, 6)) {
    await house.as(who).say('A: body. B: body. C: strawberry. E: strawberry, body', table.ts);
    await house.as(who).say('E > D > F', table.ts);
  }
  await house.as('ines').tap(table, 'table.close');
  await house.as('ines').command('/spoon tally T1 export');
  const files = await filesIn(await house.as('teo').thread(table.ts));
  // E is 2:1:1, so a quarter Nubosa Natural: 6 of 6 find strawberry in both, nobody in A or B. Wilson’s lower limit of
  // 6 of 6 is 6 / (6 + z²) = 0.60966, d = 0.39034 from 1. Zou, Huang & Zhang (2009): 0.75 − d √(1 + 0.5² + 0.25²) and
  // 0.75 + 0.25 d.
  const trace = rowsOf(files, 'T1-trace.csv');
  expect(trace.find((row) => row['name'] === 'strawberry')).toEqual({
    tasting: 'T1',
    cup: 'E',
    holds: '2:1:1',
    level: 'attribute',
    name: 'strawberry',
    status: 'lifted',
    brought_by: 'Nubosa Natural',
    tasters: '6',
    noted: '6',
    observed: '1',
    expected: '0.25',
    difference: '0.75',
    difference_low: '0.3028',
    difference_high: '0.8476',
  });
  expect(trace.some((row) => row['level'] === 'family')).toBe(true);

  const read = z.looseObject({ columns: z.record(z.string(), z.record(z.string(), z.string())) });
  const { columns } = read.parse(JSON.parse(files.get('T1-all.json') ?? ''));
  expect(Object.keys(columns)).toEqual(['tally', 'notes', 'placings', 'standings', 'trace']);
  const page = readFileSync(new URL('../../docs/exports.md', import.meta.url), 'utf8');
  for (const [name, held] of Object.entries(columns)) {
    const documented = page.split(`## \`T4-${name}.csv\``)[1]?.split('\n## ')[0] ?? '';
    const lines = documented.split('\n').map((line) => line.split('|').map((cell) => cell.trim()));
    for (const [column, means] of Object.entries(held)) {
      expect(lines).toContainEqual(['', `\`${column}\``, means, '']);
    }
  }
});

test('no file of an export names a taster, and a number means the same person in all of them', async () => {
  house = await startStory();
  const table = await openTable(house);
  for (const who of NAMES) await house.as(who).say(`D: lemon. E > D > F`, table.ts);
  await house.as('wren').say(`E: mint, F: mint, frobnicated like <@${house.id('teo')}>`, table.ts);
  await house.as('ines').tap(table, 'table.close');
  await house.as('ines').command('/spoon tally T1 export');
  const files = await filesIn(await house.as('teo').thread(table.ts));
  const ids = NAMES.map((name) => house.id(name));
  for (const text of files.values())
    expect([...NAMES, ...ids].filter((name) => new RegExp(`\\b${name}\\b`, 'i').test(text))).toEqual([]);
  const minty = rowsOf(files, 'T1-notes.csv').filter((row) => row['attribute'] === 'mint');
  expect(new Set(minty.map((row) => row['taster'])).size).toBe(1);
  const numbers = rowsOf(files, 'T1-placings.csv').map((row) => row['taster']);
  expect(new Set(numbers)).toEqual(new Set(['1', '2', '3', '4', '5', '6', '7']));
});

test('while people taste, the files go to the host alone, and nobody else may ask for them', async () => {
  house = await startStory();
  const table = await openTable(house, `${BOOKING} blind`);
  await house.as('noor').say('strawberry', (await anyCup()).ts);
  const before = (await house.as('ines').thread(table.ts)).length;
  await house.as('noor').say('@Tallyspoon tally export', table.ts);
  const refusal = (await house.as('noor').thread(table.ts)).find(({ ephemeral }) => ephemeral);
  expect(refusal?.text).toContain('That is for the host');
  const answer = await house.as('ines').command('/spoon tally T1 export');
  expect(answer.response?.text).toContain('in direct messages: the table is still tasting');
  const direct = await filesIn(await house.as('ines').direct());
  expect(rowsOf(direct, 'T1-tally.csv').some((row) => row['name'] === 'strawberry')).toBe(true);
  expect((await filesIn(await house.as('ines').thread(table.ts))).size).toBe(0);
  expect((await house.as('ines').thread(table.ts)).length).toBe(before + 1);
});

test('a table that was never opened has nothing to export', async () => {
  house = await startStory();
  await house.as('ines').command(BOOKING);
  const answer = await house.as('ines').command('/spoon tally T1 export');
  expect(answer.response?.text).toContain('nothing to export yet');
});

test('the button under the digest exports too, for the host and not for a taster', async () => {
  house = await startStory();
  const table = await openTable(house);
  for (const who of NAMES) await house.as(who).say('E > D > F', table.ts);
  await house.as('ines').command('/spoon digest T1 12 kg');
  const digest = await card(house, 'Digest T1');
  expect(wordsOf(digest)).toContain('Export');
  await house.as('teo').tap(digest, 'tally.export');
  expect((await filesIn(await house.as('teo').thread(table.ts))).size).toBe(0);
  await house.as('ines').tap(digest, 'tally.export');
  expect((await filesIn(await house.as('teo').thread(table.ts))).size).toBe(6);
});

async function anyCup(): Promise<Message> {
  const cup = (await house.as('noor').messages()).find(({ text }) => text.startsWith('Cup '));
  if (!cup) throw new Error('no cup is on the table');
  return cup;
}

async function filesIn(messages: readonly Message[]): Promise<ReadonlyMap<string, string>> {
  const shared = messages.flatMap(({ files }) => files);
  const read = await Promise.all(
    shared.map(async ({ id, name }) => {
      const response = await fetch(`${house.workspace.url}/local/files/${id}`);
      return [name, Buffer.from(await response.arrayBuffer()).toString('utf8')] as const;
    }),
  );
  return new Map(read);
}

function rowsOf(
  files: ReadonlyMap<string, string>,
  name: string,
): readonly Readonly<Record<string, string>>[] {
  const text = (files.get(name) ?? '').replace(/^\uFEFF/, '');
  return Papa.parse<Record<string, string>>(text, { header: true, skipEmptyLines: true }).data;
}

import Papa from 'papaparse';
import { expect, test } from 'vitest';
import { csvOf, jsonOf } from '../../../src/commands/tallying/export-message.js';
import type { ExportTable } from '../../../src/domain/export/export-table.js';

const TABLE: ExportTable = {
  name: 'notes',
  columns: [
    { name: 'words', means: 'the words' },
    { name: 'intensity', means: 'how much' },
  ],
  rows: [
    ['=HYPERLINK("http://127.0.0.1","lemon")', 3],
    ['+1', null],
    ['-2+3', 0],
    ['@sum(a1)', 1],
    ['\tcmd', 1],
    ['＝1+1', 1],
    ['crème brûlée, “dark”', -1.5],
    ['two\nlines', 1],
  ],
};

test('a cell that a spreadsheet would take for a formula begins with an apostrophe; numbers stay numbers', () => {
  // What begins a formula in spreadsheets: = + - @, tab and carriage return (OWASP, "CSV Injection").
  const { data } = Papa.parse<readonly string[]>(csvOf(TABLE).slice(1).trimEnd());
  expect(data.slice(1).map(([words]) => words)).toEqual([
    '\'=HYPERLINK("http://127.0.0.1","lemon")',
    "'+1",
    "'-2+3",
    "'@sum(a1)",
    "'\tcmd",
    "'＝1+1",
    'crème brûlée, “dark”',
    'two\nlines',
  ]);
  expect(data[7]?.[1]).toBe('-1.5');
});

test('a cell stays no formula where a spreadsheet cuts lines at semicolons, and takes no notice of quotes', () => {
  const words = [
    'lemon;=1+1',
    'lemon; @sum(a1);+2',
    'two\n-lines',
    'one\r\n\t=2',
    'low; very sweet',
    'a-b; c=d',
  ];
  const csv = csvOf({ ...TABLE, rows: words.map((said) => [said, 1]) });
  const cells = csv.slice(1).split(/[;,\t\r\n]/u);
  expect(cells.filter((cell) => /^["\s]*[=+\-@]/u.test(cell))).toEqual([]);
  const { data } = Papa.parse<readonly string[]>(csv.slice(1).trimEnd());
  expect(data.slice(1).map(([said]) => said)).toEqual([
    "lemon;'=1+1",
    "lemon; '@sum(a1);'+2",
    "two\n'-lines",
    "one\r\n\t'=2",
    'low; very sweet',
    'a-b; c=d',
  ]);
});

test('a CSV file begins with the mark of UTF-8 and ends every line as RFC 4180 says', () => {
  const csv = csvOf(TABLE);
  expect([...Buffer.from(csv, 'utf8').subarray(0, 3)]).toEqual([0xef, 0xbb, 0xbf]);
  expect(csv.slice(1).startsWith('words,intensity\r\n')).toBe(true);
  expect(csv.endsWith('\r\n')).toBe(true);
});

test('the JSON holds the same rows by column name, and says what the columns mean', () => {
  const read: unknown = JSON.parse(jsonOf('T4', [TABLE]));
  expect(read).toMatchObject({
    tasting: 'T4',
    columns: { notes: { words: 'the words', intensity: 'how much' } },
  });
  expect(read).toHaveProperty(['notes', 1], { words: '+1', intensity: null });
  expect(read).toHaveProperty(['notes', 'length'], 8);
});

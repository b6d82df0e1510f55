import type { ReadNote } from '../record/note.js';
import type { TableSetting } from '../record/table-setting.js';
import { cupName, tastingName } from '../record/tasting.js';
import { countingNotes } from '../tally/counted.js';
import { type Cell, columns, type ExportTable } from './export-table.js';

const NOTES_COLUMNS = columns(
  ['tasting', 'the tasting, like T4'],
  ['taster', 'the taster’s number at this table, the same in every file; names are not exported'],
  [
    'note',
    'counts the taster’s notes in the order of writing: of two words on one attribute the later counts',
  ],
  ['cup', 'the cup it speaks of; empty when its writer has not said which'],
  ['attribute', 'the attribute; empty for words with no place in the vocabulary'],
  ['says', 'present, denied, compared (“less than B”) or unknown'],
  ['degree', 'slight, plain or strong, as the words say'],
  ['intensity', '0 to 15, the scale of descriptive analysis; empty when the words give none'],
  ['doubt', 'yes when it was said with doubt'],
  ['words', 'the words themselves, as written'],
  ['counted', 'no for a late note, or one whose cup is not known'],
);

/** Every mention of every standing note, and every phrase that found no place; tasters as numbers. */
export function notesExport(
  setting: TableSetting,
  notes: readonly ReadNote[],
  numbers: ReadonlyMap<string, number>,
): ExportTable {
  const counting = new Set(countingNotes(notes).map(({ id }) => id));
  const names = new Map(setting.cups.map((cup) => [cup.id, cupName(cup)]));
  const written = new Map<string, number>();
  const rows = [...notes]
    .sort((a, b) => Number.parseFloat(a.ts) - Number.parseFloat(b.ts) || a.id - b.id)
    .flatMap((note) => {
      const nth = (written.get(note.person) ?? 0) + 1;
      written.set(note.person, nth);
      const start = [tastingName(setting.tasting), numbers.get(note.person) ?? null, nth];
      return noteRows(note, start, names, counting.has(note.id) ? 'yes' : 'no');
    });
  const order = (row: readonly Cell[], column: number) => Number(row[column] ?? 0);
  rows.sort((a, b) => order(a, 1) - order(b, 1) || order(a, 2) - order(b, 2));
  return { name: 'notes', columns: NOTES_COLUMNS, rows };
}

function noteRows(
  { text, reading, chosenCupId, homeCupId }: ReadNote,
  start: readonly Cell[],
  names: ReadonlyMap<number, string>,
  counted: string,
): readonly (readonly Cell[])[] {
  const mentions = reading.mentions.map((mention) => [
    ...start,
    mention.cupId === null ? null : (names.get(mention.cupId) ?? null),
    mention.attribute,
    mention.polarity,
    mention.degree,
    mention.intensity,
    mention.doubt ? 'yes' : null,
    unnamed(text.slice(mention.span[0], mention.span[1])),
    mention.cupId === null ? 'no' : counted,
  ]);
  const home = chosenCupId ?? homeCupId;
  const unknown = reading.unplaced.map(({ words }) => [
    ...start,
    home === null ? null : (names.get(home) ?? null),
    null,
    'unknown',
    null,
    null,
    null,
    unnamed(words),
    'no',
  ]);
  return [...mentions, ...unknown];
}

/** A person called by name in Slack ("<@U…>") is not named in a file either. */
function unnamed(words: string): string {
  return words.replace(/<@[^>]*>/g, '@someone');
}

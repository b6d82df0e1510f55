import Papa from 'papaparse';
import { z } from 'zod';
import type { Vocabulary } from '../../domain/notes/vocabulary.js';
import { UserError } from '../../runtime/errors.js';
import { type Db, inTransaction } from '../../store/db.js';
import { listHouseWords } from '../../store/house.js';
import type { Answer, Deps, SubmitAnswer } from '../common/bot.js';
import { chosen, type Submission, type Who, written } from '../common/intake.js';
import { requireAllowed } from '../common/standing.js';
import { houseVocabulary } from '../common/table-notes.js';
import { readAgain, requireAttribute, teachWord } from './teach-words.js';
import { type ImportOutcome, wordExportMessage, wordImportMessage } from './words-messages.js';

const HEADER = ['words', 'attribute'];
const MOST_ROWS = 500;

/** The words taught here as CSV, to copy. */
export async function exportWords(deps: Deps, who: Who, from: number): Promise<Answer> {
  const taught = await listHouseWords(deps.db, who.workspace);
  const rows = taught.map((word) => [word.words, word.attribute]);
  const csv = Papa.unparse([HEADER, ...rows], { newline: '\n' });
  return { message: wordExportMessage(csv.split('\n'), from < taught.length ? from : 0) };
}

/** Teaches every row that can be taught, and shows the others with the reason. */
export async function importSubmitted(deps: Deps, { who, form }: Submission): Promise<SubmitAnswer> {
  const rows = readRows(written(form, 'csv'));
  if (rows.length === 0)
    return { errors: { csv: 'I found no pairs. One per line, like: sugarcane juice,cane sugar' } };
  const replace = chosen(form, 'clash')[0] === 'replace';
  return inTransaction(deps.db, async (trx) => {
    await requireAllowed(trx, who, 'teach words');
    const now = deps.clock.now();
    const vocabulary = await houseVocabulary(trx, who.workspace);
    const outcomes: ImportOutcome[] = [];
    for (const row of rows) outcomes.push(await teachRow(trx, who, row, vocabulary, now, replace));
    const again = outcomes.some((outcome) => outcome.kind === 'taught')
      ? await readAgain(trx, who.workspace, now)
      : [];
    return { message: wordImportMessage(outcomes, again.join(' ')) };
  });
}

type Row = { readonly words: string; readonly attribute: string };

/** Two columns, parted by comma, semicolon or tab as the spreadsheet likes; a heading row is left out. */
function readRows(text: string): readonly Row[] {
  // A code block may have been copied with its fences.
  const bare = text.replace(/^```[a-z]*\n?|\n?```$/gu, '');
  const { data } = Papa.parse<unknown>(bare, { skipEmptyLines: 'greedy' });
  const pairs = data.flatMap((row) => {
    const cells = z.array(z.string()).safeParse(row);
    const [words = '', attribute = ''] = (cells.data ?? []).map((cell) => cell.trim());
    return words === '' && attribute === '' ? [] : [{ words, attribute }];
  });
  const [first] = pairs;
  const heading = first?.words.toLowerCase() === HEADER[0] && first?.attribute.toLowerCase() === HEADER[1];
  return (heading ? pairs.slice(1) : pairs).slice(0, MOST_ROWS);
}

async function teachRow(
  db: Db,
  who: Who,
  row: Row,
  vocabulary: Vocabulary,
  now: Date,
  replace: boolean,
): Promise<ImportOutcome> {
  try {
    const attribute = requireAttribute(row.attribute, vocabulary);
    const taught = await teachWord(db, who, { words: row.words, attribute }, now, replace);
    if (taught.kind !== 'clash') return { kind: taught.kind, words: taught.words, attribute };
    const why = `means ${taught.means}${taught.shipped ? ' in the common vocabulary' : ' here'}`;
    return { kind: 'left', words: taught.words, attribute, why };
  } catch (error) {
    if (!(error instanceof UserError)) throw error;
    const why = error.input === 'attribute' ? 'no attribute I know' : 'no word or phrase';
    return { kind: 'left', words: row.words.slice(0, 60), attribute: row.attribute.slice(0, 60), why };
  }
}

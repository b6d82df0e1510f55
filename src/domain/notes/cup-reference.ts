import { cupContents, type TableSetting } from '../record/table-setting.js';
import { type Cup, cupName } from '../record/tasting.js';
import { emptyTree, longestExact, type PhraseTree, phraseList, plant, wordSet } from './phrases.js';
import type { CupReference } from './piece.js';
import { type Token, tokenise } from './tokenise.js';

/**
 * The ways to name a cup of the table: its label (A, B, C…), its three-digit code when blind, the coffee or
 * ratio in it, and what it is on the table. "First cup" follows from its place in the list of cups.
 */
export type CupName = {
  readonly label: string;
  readonly code?: string;
  readonly name?: string;
  readonly kind?: Cup['kind'];
};

/** The ways tasters may name the cups. Blind, only codes: letters and contents would give cups away. */
export function cupNames(setting: TableSetting): readonly CupName[] {
  return setting.cups.map((cup) => {
    const name = cupName(cup);
    if (cup.code !== null) return { label: name, code: cup.code, kind: cup.kind };
    const contents = cup.kind === 'blend' ? setting.recipe.name : cupContents(cup, setting);
    return { label: name, name: contents, kind: cup.kind };
  });
}

/**
 * Where a note was written: the cups on the table (none: the text is a note on one cup), the cup whose
 * thread it is in (null in the table's own thread), and whether the table is blind (then a coffee's name
 * names no cup).
 */
export type NoteContext = {
  readonly cups: readonly CupName[];
  readonly homeCup: string | null;
  readonly blind: boolean;
};

/**
 * Ways to name the cups of a table, each with the labels named: phrases that name by themselves, words that name
 * behind a noun ("cup 2") or before one ("second cup"), and one-letter labels, which may stand bare.
 */
type CupPhrases = {
  readonly named: PhraseTree<readonly string[]>;
  readonly behindNoun: PhraseTree<readonly string[]>;
  readonly beforeNoun: PhraseTree<readonly string[]>;
  readonly bare: ReadonlyMap<string, string>;
  /** Words of processing that one cup's name has and no other: "the natural". */
  readonly processes: ReadonlyMap<string, string>;
};

/** Nouns with a label or number behind them, and nouns with an ordinal before them. */
const LABELLED_NOUNS = wordSet('cup cups coffee sample glass bowl mug ratio pour');
const COUNTED_NOUNS = wordSet('cup one coffee sample glass bowl ratio pour');
const ORDINALS = 'first second third fourth fifth sixth seventh eighth ninth tenth'.split(' ');
const NUMERALS = 'one two three four five six seven eight nine ten'.split(' ');
const ALL = phraseList(
  'all cups, all the cups, all of them, every cup, each cup, all coffees, all three, all four',
);
/** Honey is a process too, and a flavour more often. */
const PROCESSES = ['natural', 'washed', 'anaerobic', 'decaf'];
const SHORTEST_NAME_WORD = 4;

/**
 * Lays out every way to name the cups of a table: labels, codes, names unless blind, places in the row. What
 * stands first wins: a cup labelled "1" is "cup 1", whichever cup is first in the row.
 */
function cupPhrases({ cups, blind }: NoteContext): CupPhrases {
  const named = emptyTree<readonly string[]>();
  const behindNoun = emptyTree<readonly string[]>();
  const beforeNoun = emptyTree<readonly string[]>();
  const bare = new Map<string, string>();
  for (const { label, code } of cups) {
    const folded = words(label);
    const [letter] = folded;
    if (folded.length === 1 && letter !== undefined && /^[a-z]$/.test(letter)) bare.set(letter, label);
    else plant(named, folded, [label]);
    plant(behindNoun, folded, [label]);
    const digits = words(code ?? '');
    plant(named, digits, [label]);
    plant(behindNoun, digits, [label]);
  }
  if (!blind) addNames(cups, named);
  for (const [i, { label }] of cups.entries()) {
    const number = String(i + 1);
    const suffix = i === 0 ? 'st' : i === 1 ? 'nd' : i === 2 ? 'rd' : 'th';
    const before = [[number, suffix], ORDINALS.slice(i, i + 1)];
    const behind = [[number], ['#', number], ['number', number], NUMERALS.slice(i, i + 1)];
    plant(named, ['#', number], [label]);
    for (const place of before) plant(beforeNoun, place, [label]);
    for (const place of behind) plant(behindNoun, place, [label]);
  }
  const last = cups.at(-1)?.label;
  if (last !== undefined && cups.length > 1) {
    plant(beforeNoun, ['last'], [last]);
    const labels = cups.map(({ label }) => label);
    for (const phrase of ALL) plant(named, phrase.split(' '), labels);
  }
  return { named, behindNoun, beforeNoun, bare, processes: blind ? new Map() : processNames(cups) };
}

function processNames(cups: NoteContext['cups']): ReadonlyMap<string, string> {
  const processes = new Map<string, string>();
  for (const process of PROCESSES) {
    const [cup, ...others] = cups.filter(({ name }) => words(name ?? '').includes(process));
    if (cup !== undefined && others.length === 0) processes.set(process, cup.label);
  }
  return processes;
}

function words(phrase: string): readonly string[] {
  return tokenise(phrase)
    .filter(({ kind }) => kind !== 'break')
    .map(({ text }) => text);
}

/** Whole names, the first word of a name when no other cup has it, and "the blend" when there is just one. */
function addNames(cups: NoteContext['cups'], named: PhraseTree<readonly string[]>): void {
  const firstWords = cups.map(({ name }) => words(name ?? '')[0]);
  for (const { label, name } of cups) {
    const folded = words(name ?? '');
    const first = folded[0] ?? '';
    plant(named, folded, [label]);
    const alone = firstWords.filter((other) => other === first).length === 1;
    if (alone && !PROCESSES.includes(first) && first.length >= SHORTEST_NAME_WORD && /^[a-z]+$/.test(first))
      plant(named, [first], [label]);
  }
  const [blend, ...others] = cups.filter(({ kind }) => kind === 'blend');
  if (blend === undefined || others.length > 0) return;
  for (const phrase of ['the blend', 'our blend', 'blend cup'])
    plant(named, phrase.split(' '), [blend.label]);
}

/** Letters that are words or shorthand of their own, so that they name a cup only where nothing else fits. */
const DOUBTFUL = wordSet('a i n o r s t u w x y k');
const HEAD_MARKS = wordSet(': - ) ] = > < * | . \u2192 \u2014 _ / &');
const SAYING = wordSet(
  'is was has had tastes tasted seems seemed smells feels felt gets got wins beats then best',
);
const CUP_NOUNS = new Set(['one', 'cup', 'coffee']);
const TYING = wordSet('and or & + / , > < = vs then');
const POINTING = wordSet(
  'in for on from than like vs versus over beats best favourite favorite prefer to as of',
);
const OPENING = new Set(['in', 'for', 'on']);
const SPEAKERS = wordSet('i we there theres its it they');
const ARTICLE_PHRASES = wordSet(
  'bit little hint touch lot tad nice very really slight ton trace whisper clear good',
);

/** Finds the cups named in tokens: gives the reference that begins at a token, or null. */
export function findCupReferences(
  tokens: readonly Token[],
  context: NoteContext,
): (index: number) => CupReference | null {
  if (context.cups.length === 0) return () => null;
  const phrases = cupPhrases(context);
  const heads = findPlainHeads(tokens, phrases);
  return (index) => {
    const token = tokens[index];
    if (token === undefined) return null;
    const after = tokens[index + 1];
    if ((token.joined || after?.joined === true) && after?.text !== 's') return null;
    const named = longestNaming(tokens, index, phrases);
    if (named !== null) return named;
    const process = phrases.processes.get(token.text);
    if (process !== undefined && isSubject(tokens, index))
      return { labels: [process], length: CUP_NOUNS.has(after?.text ?? '') ? 2 : 1 };
    const label = phrases.bare.get(token.text);
    if (label === undefined || token.kind !== 'word') return null;
    if (DOUBTFUL.has(token.text) && !isSurelyCup(tokens, index, phrases, heads)) return null;
    return { labels: [label], length: 1 };
  };
}

/** The longest phrase that names cups, with its noun. */
function longestNaming(
  tokens: readonly Token[],
  index: number,
  { named, behindNoun, beforeNoun }: CupPhrases,
): CupReference | null {
  const wordAt = (i: number) => tokens[i]?.text ?? null;
  const whole = longestExact(named, index, wordAt);
  const behind = LABELLED_NOUNS.has(wordAt(index) ?? '') ? longestExact(behindNoun, index + 1, wordAt) : null;
  const place = longestExact(beforeNoun, index, wordAt);
  const before = COUNTED_NOUNS.has(wordAt(index + (place?.length ?? 0)) ?? '') ? place : null;
  const counted = behind ?? before;
  if (counted !== null && counted.length >= (whole?.length ?? 0))
    return { labels: counted.value, length: counted.length + 1 };
  return whole === null ? null : { labels: whole.value, length: whole.length };
}

/** Whether what stands around a doubtful letter shows that it names a cup. */
function isSurelyCup(
  tokens: readonly Token[],
  i: number,
  phrases: CupPhrases,
  { headed, scored }: PlainHeads,
): boolean {
  const before = tokens[i - 1];
  const after = tokens[i + 1];
  const [left, right] = [before?.text ?? '', after?.text ?? ''];
  const starts = isStart(before);
  const ends = after === undefined || after.kind === 'break' || (after.kind === 'mark' && right !== '"');
  const said = SAYING.has(right);
  const listed = starts || left === ',' || left === '/' || before?.kind === 'number';
  return (
    (starts && (after === undefined || after.kind === 'break' || HEAD_MARKS.has(right) || said)) ||
    (scored && after?.kind === 'number' && listed) ||
    (right === 's' && after?.joined === true) ||
    (POINTING.has(left) && (ends || said || TYING.has(right) || SPEAKERS.has(right))) ||
    (ends && (left === ':' || left === '=')) ||
    isTied(tokens, i, -1, phrases) ||
    isTied(tokens, i, 1, phrases) ||
    (right === ',' && phrases.bare.has(tokens[i + 2]?.text ?? '') && (starts || left === ':')) ||
    (left === ',' && (said || right === ':')) ||
    (headed && OPENING.has(left) && isStart(tokens[i - 2]) && !ARTICLE_PHRASES.has(right)) ||
    (headed && starts && after?.kind === 'word' && !ARTICLE_PHRASES.has(right))
  );
}

/** "The natural tastes …", "natural: …": never "the natural sweetness". */
function isSubject(tokens: readonly Token[], i: number): boolean {
  const before = tokens[i - 1];
  const after = tokens[i + 1];
  if (before?.text !== 'the' && !isStart(before)) return false;
  if (after === undefined || after.kind === 'break') return before?.text === 'the';
  if (CUP_NOUNS.has(after.text)) return before?.text === 'the';
  return SAYING.has(after.text) || (after.kind === 'mark' && (before?.text === 'the' || after.text === ':'));
}

/** The other side of "A and B", "A > B", "A/B" is a label as well. */
function isTied(tokens: readonly Token[], i: number, step: 1 | -1, { bare }: CupPhrases): boolean {
  const tie = tokens[i + step];
  const other = tokens[i + 2 * step]?.text ?? '';
  if (tie === undefined || tie.text === ',' || !TYING.has(tie.text)) return false;
  return bare.has(other) && (!DOUBTFUL.has(other) || tie.kind === 'mark');
}

function isStart(before: Token | undefined): boolean {
  if (before === undefined || before.kind === 'break') return true;
  return before.kind === 'mark' && '.;!?([*_#|\u2022\u2014-'.includes(before.text);
}

type PlainHeads = { readonly headed: boolean; readonly scored: boolean };

/** Whether some label that is no word of its own is followed by words ("A lemon B chocolate") or a score. */
function findPlainHeads(tokens: readonly Token[], { bare }: CupPhrases): PlainHeads {
  let headed = false;
  let scored = false;
  for (const [i, { text }] of tokens.entries()) {
    if (!bare.has(text) || DOUBTFUL.has(text)) continue;
    if (tokens[i + 1]?.kind === 'word') headed = true;
    if (tokens[i + 1]?.kind === 'number') scored = true;
  }
  return { headed, scored };
}

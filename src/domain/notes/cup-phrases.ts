import type { NoteContext } from './note-context.js';
import { emptyTree, type PhraseTree, phraseList, plant, wordSet } from './phrases.js';
import { tokenise } from './tokenise.js';

/**
 * Ways to name the cups of a table, each with the labels named: phrases that name by themselves, words that name
 * behind a noun ("cup 2") or before one ("second cup"), and one-letter labels, which may stand bare.
 */
export type CupPhrases = {
  readonly named: PhraseTree<readonly string[]>;
  readonly behindNoun: PhraseTree<readonly string[]>;
  readonly beforeNoun: PhraseTree<readonly string[]>;
  readonly bare: ReadonlyMap<string, string>;
  /** Words of processing that one cup's name has and no other: "the natural". */
  readonly processes: ReadonlyMap<string, string>;
};

/** Nouns with a label or number behind them, and nouns with an ordinal before them. */
export const LABELLED_NOUNS = wordSet('cup cups coffee sample glass bowl mug ratio pour');
export const COUNTED_NOUNS = wordSet('cup one coffee sample glass bowl ratio pour');
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
export function cupPhrases({ cups, blind }: NoteContext): CupPhrases {
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

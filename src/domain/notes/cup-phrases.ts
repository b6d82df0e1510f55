import type { NoteContext } from './note-context.js';
import { emptyTree, type PhraseTree, plant } from './phrase-tree.js';
import { tokenise } from './tokenise.js';

/** Phrases that name cups, each with the labels named. `bare` are one-letter labels without "cup". */
export type CupPhrases = {
  readonly named: PhraseTree<readonly string[]>;
  readonly bare: ReadonlyMap<string, string>;
  /** Words of processing that one cup's name has and no other: "the natural". */
  readonly processes: ReadonlyMap<string, string>;
};

const NOUNS = 'cup cups coffee sample glass bowl mug ratio pour'.split(' ');
const COUNTED_NOUNS = 'cup one coffee sample glass bowl ratio pour'.split(' ');
const ORDINALS = 'first second third fourth fifth sixth seventh eighth ninth tenth'.split(' ');
const NUMERALS = 'one two three four five six seven eight nine ten'.split(' ');
const ALL = [
  'all cups',
  'all the cups',
  'all of them',
  'every cup',
  'each cup',
  'all coffees',
  'all three',
  'all four',
];
/** Honey is a process too, and a flavour more often. */
const PROCESSES = ['natural', 'washed', 'anaerobic', 'decaf'];
const SHORTEST_NAME_WORD = 4;

const laidOut = new WeakMap<NoteContext['cups'], { open?: CupPhrases; blind?: CupPhrases }>();

/** Every way to name the cups of a table, laid out once for each list of cups. */
export function cupPhrases(context: NoteContext): CupPhrases {
  const kept = laidOut.get(context.cups) ?? {};
  const key = context.blind ? 'blind' : 'open';
  const phrases = kept[key] ?? layOut(context);
  laidOut.set(context.cups, { ...kept, [key]: phrases });
  return phrases;
}

/**
 * Lays out every way to name the cups of a table: labels, codes, names unless blind, places in the row. What
 * stands first wins: a cup labelled "1" is "cup 1", whichever cup is first in the row.
 */
function layOut({ cups, blind }: NoteContext): CupPhrases {
  const named = emptyTree<readonly string[]>();
  const bare = new Map<string, string>();
  const add = (phrase: string, label: string): void => addPhrase(named, phrase, [label]);
  for (const { label, code } of cups) {
    const folded = words(label);
    const only = folded.length === 1 ? folded[0] : undefined;
    if (only !== undefined && /^[a-z]$/.test(only)) bare.set(only, label);
    else add(label, label);
    for (const noun of NOUNS) add(`${noun} ${label}`, label);
    if (code !== undefined && code !== label) {
      add(code, label);
      for (const noun of NOUNS) add(`${noun} ${code}`, label);
    }
  }
  if (!blind) addNames(cups, add);
  cups.forEach(({ label }, i) => {
    addPlace(i, label, add);
  });
  const last = cups.at(-1)?.label;
  if (last !== undefined && cups.length > 1) for (const noun of COUNTED_NOUNS) add(`last ${noun}`, last);
  if (cups.length > 1)
    for (const phrase of ALL)
      addPhrase(
        named,
        phrase,
        cups.map(({ label }) => label),
      );
  return { named, bare, processes: blind ? new Map() : processNames(cups) };
}

function processNames(cups: NoteContext['cups']): ReadonlyMap<string, string> {
  const processes = new Map<string, string>();
  for (const process of PROCESSES) {
    const [cup, ...others] = cups.filter(({ name }) => words(name ?? '').includes(process));
    if (cup !== undefined && others.length === 0) processes.set(process, cup.label);
  }
  return processes;
}

function addPhrase(tree: PhraseTree<readonly string[]>, phrase: string, labels: readonly string[]): void {
  const parts = words(phrase);
  if (parts.length > 0) plant(tree, parts, labels);
}

function words(phrase: string): readonly string[] {
  return tokenise(phrase)
    .filter(({ kind }) => kind !== 'break')
    .map(({ text }) => text);
}

function addPlace(i: number, label: string, add: (phrase: string, label: string) => void): void {
  const ordinal = ORDINALS[i];
  const numeral = NUMERALS[i];
  const suffix = i === 0 ? 'st' : i === 1 ? 'nd' : i === 2 ? 'rd' : 'th';
  for (const noun of COUNTED_NOUNS) {
    if (ordinal !== undefined) add(`${ordinal} ${noun}`, label);
    add(`${i + 1}${suffix} ${noun}`, label);
  }
  add(`#${i + 1}`, label);
  for (const noun of NOUNS) {
    add(`${noun} ${i + 1}`, label);
    add(`${noun} #${i + 1}`, label);
    add(`${noun} number ${i + 1}`, label);
    if (numeral !== undefined) add(`${noun} ${numeral}`, label);
  }
}

/** Whole names, the first word of a name when no other cup has it, and "the blend" when there is just one. */
function addNames(cups: NoteContext['cups'], add: (phrase: string, label: string) => void): void {
  const firstWords = new Map<string, number>();
  for (const { name } of cups) {
    const first = words(name ?? '')[0];
    if (first !== undefined) firstWords.set(first, (firstWords.get(first) ?? 0) + 1);
  }
  for (const { label, name } of cups) {
    if (name === undefined) continue;
    add(name, label);
    const first = words(name)[0] ?? '';
    if (
      firstWords.get(first) === 1 &&
      !PROCESSES.includes(first) &&
      first.length >= SHORTEST_NAME_WORD &&
      /^[a-z]+$/.test(first)
    )
      add(first, label);
  }
  const blends = cups.filter(({ kind }) => kind === 'blend');
  const blend = blends.length === 1 ? blends[0]?.label : undefined;
  if (blend !== undefined) for (const phrase of ['the blend', 'our blend', 'blend cup']) add(phrase, blend);
}

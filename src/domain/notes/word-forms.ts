import { z } from 'zod';
import { editDistance } from '../measure/nearest-word.js';
import { remembered } from '../measure/remembered.js';
import commonWordsJson from './common-words.json' with { type: 'json' };
import { CUE_WORDS } from './cues.js';
import { wordSet } from './phrases.js';
import type { VocabularyEntry } from './vocabulary-file.js';

/**
 * What a form adds to its word: "-ish" makes it slight, "-er" compares, "-est" compares with all, "un-"
 * turns it round.
 */
export type Twist = 'slight' | 'more' | 'most' | 'reversed';
export type WordForm = { readonly word: string; readonly twist: Twist | null };

/** A possible base word, and whether the form is one that nouns or adjectives take. */
type BaseForm = WordForm & { readonly of: 'noun' | 'adjective' | 'any' };

const SHORTEST_BASE = 3;
const LONGEST_WORD = 40;
/** Common words that only look like a form of a taste word. */
const NO_FORM = wordSet('brother liter smother supplier applies butterflies denies');
const ADJECTIVE_KINDS = new Set([
  'taste',
  'mouthfeel',
  'body',
  'acidity',
  'sweetness',
  'aftertaste',
  'overall',
]);

type Ending = readonly [
  ending: string,
  replacements: readonly string[],
  of: BaseForm['of'],
  twist: Twist | null,
];

const ENDINGS: readonly Ending[] = [
  ['iness', ['y', ''], 'any', null],
  ['yness', ['y', ''], 'any', null],
  ['ness', [''], 'any', null],
  ['iest', ['y', 'ey', '', 'e'], 'any', 'most'],
  ['ier', ['y', 'ey', '', 'e'], 'any', 'more'],
  ['est', ['', 'e'], 'adjective', 'most'],
  ['er', ['', 'e'], 'adjective', 'more'],
  ['ies', ['y', 'ie'], 'noun', null],
  ['es', ['', 'e'], 'noun', null],
  ['s', [''], 'noun', null],
  ['yish', ['y', ''], 'any', 'slight'],
  ['ish', ['', 'e', 'y'], 'any', 'slight'],
  ['esque', ['', 'e', 'y'], 'noun', null],
  ['like', [''], 'noun', null],
  ['ey', ['', 'e', 'y'], 'noun', null],
  ['ie', ['y'], 'noun', null],
  ['y', ['', 'e'], 'noun', null],
  ['ed', ['', 'e'], 'noun', null],
];

/**
 * The words that `word` may be a form of, most likely first: plurals, adjectives, comparatives, "-ness",
 * "-ish", "un-". Not all of them are words: the caller keeps those that its vocabulary has.
 */
function baseForms(word: string): readonly BaseForm[] {
  const forms = endings(word);
  if (!word.startsWith('un') || word.length < 6) return forms;
  const positive = word.slice(2);
  const reversed: BaseForm[] = [{ word: positive, twist: 'reversed', of: 'adjective' }];
  for (const form of endings(positive)) reversed.push({ ...form, twist: 'reversed' });
  return [...forms, ...reversed];
}

function endings(word: string): BaseForm[] {
  const forms: BaseForm[] = [];
  for (const [ending, replacements, of, twist] of ENDINGS) {
    if (!word.endsWith(ending)) continue;
    const stem = word.slice(0, word.length - ending.length);
    if (stem.length < SHORTEST_BASE) continue;
    for (const replacement of replacements) forms.push({ word: stem + replacement, of, twist });
    // "nutty", "flatter": a consonant doubled before the ending.
    const last = stem.at(-1) ?? '';
    if (stem.length > SHORTEST_BASE && last === stem.at(-2) && !'aeiou'.includes(last)) {
      forms.push({ word: stem.slice(0, -1), of, twist });
    }
  }
  return forms;
}

/**
 * Makes a finder of the words that a word of a note may stand for, the word itself first: itself, its bases,
 * what it is a misspelling of. `words` are all words of the vocabulary's phrases, each with its entry when the
 * word alone is a phrase.
 */
export function formFinder(
  words: ReadonlyMap<string, VocabularyEntry | null>,
): (word: string) => readonly WordForm[] {
  const misspelt = misspellingFinder(words);
  const find = (word: string): readonly WordForm[] => {
    if (word.length > LONGEST_WORD) return [];
    const whole = (words.get(word) ?? null) !== null;
    const common = COMMON_WORDS.has(word);
    const bases = baseForms(word).filter((form) => words.has(form.word));
    const fitting = NO_FORM.has(word)
      ? []
      : bases.filter(
          ({ word: base, twist, of }) =>
            (twist !== null ? !whole : !common || /(?:s|ness)$/.test(word)) && takes(words.get(base), of),
        );
    const forms = [...(words.has(word) ? [{ word, twist: null }] : []), ...fitting];
    if (forms.length > 0 || common) return forms;
    const calm = word.replace(/(.)\1{2,}/g, '$1');
    if (calm !== word) return find(calm);
    if (bases.length > 0) return [];
    const meant = misspelt(word) ?? (word.endsWith('s') ? misspelt(word.slice(0, -1)) : null);
    return meant === null ? [] : [{ word: meant, twist: null }];
  };
  return find;
}

/** Words that only occur within phrases are taken for nouns. */
function takes(entry: VocabularyEntry | null | undefined, of: BaseForm['of']): boolean {
  if (!entry) return of === 'noun';
  return of === 'any' || ADJECTIVE_KINDS.has(entry.kind) === (of === 'adjective');
}

const commonWordsSchema = z.strictObject({ source: z.string(), licence: z.string(), words: z.string() });

/**
 * Common English words, folded, none of them of the vocabulary: a word found here is no misspelling of a
 * taste. The file names its source.
 */
export const COMMON_WORDS: ReadonlySet<string> = new Set(
  commonWordsSchema.parse(commonWordsJson).words.split(' '),
);

const SHORTEST = 5;
const LONG = 9;
const LONGEST = 24;
const REMEMBERED = 20_000;

/**
 * Makes a finder of the vocabulary word that an unknown word is a misspelling of, or null. Safeguards: never
 * for words under five letters, never from or onto a common English word or a cue, the first letter must
 * stand, one edit (two from nine letters on), and of several words equally near none is taken unless all
 * mean the same: then one with a letter that the unknown word lacks, else the vocabulary's first.
 */
function misspellingFinder(
  words: ReadonlyMap<string, VocabularyEntry | null>,
): (word: string) => string | null {
  const known = new Map<string, string[]>();
  for (const word of words.keys()) {
    if (word.length < SHORTEST || !/^[a-z]+$/.test(word)) continue;
    const initial = word.charAt(0);
    known.set(initial, [...(known.get(initial) ?? []), word]);
  }
  // Looking through the vocabulary takes a tenth of a millisecond, and every note of a table is read again and again.
  const meant = remembered<string | null>(REMEMBERED);
  return (word) => {
    if (word.length < SHORTEST || word.length > LONGEST) return null;
    if (COMMON_WORDS.has(word) || CUE_WORDS.has(word) || !/^[a-z]+$/.test(word)) return null;
    return meant(word, () => {
      const nearest = nearestOf(word, known.get(word.charAt(0)) ?? []);
      const meanings = new Set(nearest.map((candidate) => words.get(candidate)?.name ?? candidate));
      const fuller = nearest.find((candidate) => candidate.length > word.length);
      return meanings.size === 1 ? (fuller ?? nearest[0] ?? null) : null;
    });
  };
}

/** The words within reach that lie nearest, all of them equally near. */
function nearestOf(word: string, candidates: readonly string[]): readonly string[] {
  let nearest: string[] = [];
  let least = reach(word);
  for (const candidate of candidates) {
    const limit = Math.min(least, reach(candidate));
    const edits = editDistance(word, candidate, limit);
    if (edits > limit) continue;
    if (edits < least) nearest = [];
    least = edits;
    nearest.push(candidate);
  }
  return nearest;
}

function reach(word: string): number {
  return word.length >= LONG ? 2 : 1;
}

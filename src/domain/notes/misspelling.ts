import { z } from 'zod';
import { editDistance } from '../measure/nearest-word.js';
import { remembered } from '../measure/remembered.js';
import commonWordsJson from './common-words.json' with { type: 'json' };
import { CUE_WORDS } from './cues.js';
import type { VocabularyEntry } from './vocabulary-file.js';

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
export function misspellingFinder(
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

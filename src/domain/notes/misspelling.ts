import { COMMON_WORDS } from './common-words.js';
import { CUE_WORDS } from './cues.js';
import { editDistance } from './edit-distance.js';
import type { VocabularyEntry } from './vocabulary-file.js';

const SHORTEST = 5;
const LONG = 9;
const LONGEST = 24;

/**
 * Makes a finder of the vocabulary word that an unknown word is a misspelling of, or null. Safeguards: never
 * for words under five letters, never from or onto a common English word or a cue, the first letter must
 * stand, one edit (two from nine letters on), and of several words equally near none is taken unless all
 * mean the same. The index is laid out when the first word is looked up.
 */
export function misspellingFinder(
  words: ReadonlyMap<string, VocabularyEntry | null>,
): (word: string) => string | null {
  let index: ReadonlyMap<string, readonly string[]> | null = null;
  return (word) => {
    if (word.length < SHORTEST || word.length > LONGEST) return null;
    if (COMMON_WORDS.has(word) || CUE_WORDS.has(word) || !/^[a-z]+$/.test(word)) return null;
    index ??= layOut(words.keys());
    return nearest(word, index, words);
  };
}

function nearest(
  word: string,
  index: ReadonlyMap<string, readonly string[]>,
  words: ReadonlyMap<string, VocabularyEntry | null>,
): string | null {
  const limit = reach(word);
  let best: string[] = [];
  let least = limit;
  const met = new Set<string>();
  for (const shorter of shortened(word, limit)) {
    for (const candidate of index.get(shorter) ?? []) {
      if (met.has(candidate) || candidate[0] !== word[0]) continue;
      met.add(candidate);
      const edits = editDistance(word, candidate, Math.min(least, reach(candidate)));
      if (edits > least || edits > reach(candidate)) continue;
      if (edits < least) best = [];
      least = edits;
      best.push(candidate);
    }
  }
  const meanings = new Set(best.map((candidate) => words.get(candidate)?.name ?? candidate));
  return meanings.size === 1 ? (best[0] ?? null) : null;
}

function reach(word: string): number {
  return word.length >= LONG ? 2 : 1;
}

function layOut(words: Iterable<string>): ReadonlyMap<string, readonly string[]> {
  const index = new Map<string, string[]>();
  for (const word of words) {
    if (word.length < SHORTEST || !/^[a-z]+$/.test(word)) continue;
    for (const shorter of shortened(word, reach(word))) {
      const known = index.get(shorter);
      if (known === undefined) index.set(shorter, [word]);
      else known.push(word);
    }
  }
  return index;
}

/** The word with up to `edits` letters left out: two words near each other share one of these. */
function shortened(word: string, edits: number): ReadonlySet<string> {
  const all = new Set([word]);
  let edge = all;
  for (let edit = 0; edit < edits; edit += 1) {
    const next = new Set<string>();
    for (const from of edge)
      for (let i = 0; i < from.length; i += 1) next.add(from.slice(0, i) + from.slice(i + 1));
    for (const shorter of next) all.add(shorter);
    edge = next;
  }
  return all;
}

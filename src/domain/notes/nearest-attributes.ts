import { editDistance } from './edit-distance.js';
import type { Vocabulary } from './vocabulary.js';

const MOST = 5;
const SHORTEST_STEM = 4;

/**
 * The attributes whose words look most like these, best first: to offer when someone teaches or looks up a
 * word that the vocabulary does not know. A shared word counts more than a near spelling; none may fit.
 */
export function nearestAttributes(vocabulary: Vocabulary, words: string, most = MOST): readonly string[] {
  const wanted = words.trim().toLowerCase();
  if (wanted === '') return [];
  const parts = new Set(wanted.split(/\s+/));
  const scores = new Map<string, number>();
  for (const entry of vocabulary.attributes.values()) {
    for (const phrase of [entry.name, ...entry.words]) {
      const score = likeness(wanted, parts, phrase);
      if (score > (scores.get(entry.name) ?? 0)) scores.set(entry.name, score);
    }
  }
  const ranked = [...scores].sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1));
  return ranked.slice(0, most).map(([name]) => name);
}

/** 0 for nothing in common, up to 3 for the same words. */
function likeness(wanted: string, parts: ReadonlySet<string>, phrase: string): number {
  if (phrase === wanted) return 3;
  const shared = phrase.split(' ').filter((word) => word.length >= SHORTEST_STEM && parts.has(word)).length;
  if (shared > 0) return 1 + shared / Math.max(parts.size, phrase.split(' ').length);
  const limit = Math.floor(wanted.length / 3);
  const edits = editDistance(wanted, phrase, limit);
  return edits > limit || limit === 0 ? 0 : 1 - edits / wanted.length;
}

import { unknownWords } from '../domain/notes/unplaced.js';
import type { Vocabulary } from '../domain/notes/vocabulary.js';

/** The words of these notes that the vocabulary does not know, one a line with its count, most frequent first. */
export function unknownReport(texts: readonly string[], vocabulary: Vocabulary): string {
  return unknownWords(texts, vocabulary)
    .map(({ word, count }) => `${count}\t${word}\n`)
    .join('');
}

import { cutPieces } from './piece.js';
import { tokenise } from './tokenise.js';
import { IGNORED } from './unplaced-words.js';
import type { Vocabulary } from './vocabulary.js';

/**
 * The words of these texts that name no attribute and have no other work in a note (degree, denial, liking,
 * talk), most frequent first, then by alphabet. What to teach next.
 */
export function unknownWords(
  texts: readonly string[],
  vocabulary: Vocabulary,
): readonly { word: string; count: number }[] {
  const counts = new Map<string, number>();
  for (const text of texts) {
    for (const piece of cutPieces(tokenise(text), vocabulary.lexicon, () => null)) {
      if (piece.kind !== 'word' || piece.text.length < 2 || IGNORED.has(piece.text)) continue;
      counts.set(piece.text, (counts.get(piece.text) ?? 0) + 1);
    }
  }
  return [...counts]
    .map(([word, count]) => ({ word, count }))
    .sort((a, b) => b.count - a.count || (a.word < b.word ? -1 : 1));
}

import { buildLexicon, type Lexicon, type PhraseConflict, phraseWords } from './lexicon.js';
import { longestFrom } from './piece.js';
import { shippedVocabulary, type VocabularyEntry, type VocabularyFile } from './vocabulary-file.js';

/** A word taught by a house: the words and the attribute they mean there. */
export type HouseWord = { readonly words: string; readonly attribute: string };

/** A taught word that could not be taken as taught, and why. */
export type HouseWordConflict = HouseWord & {
  readonly reason: 'unknown attribute' | 'already means' | 'no words';
  readonly means?: string;
};

/** The attributes a note can claim, and every phrase tasters use for them. Never changes once made. */
export type Vocabulary = {
  readonly attributes: ReadonlyMap<string, VocabularyEntry>;
  readonly houseWords: readonly HouseWord[];
  readonly lexicon: Lexicon;
};

/** Makes a vocabulary from a checked vocabulary file. */
function createVocabulary(file: VocabularyFile): Vocabulary {
  return layOut(file.attributes, []).vocabulary;
}

/** The vocabulary as shipped, without any house's words. */
export const SHIPPED_VOCABULARY: Vocabulary = createVocabulary(shippedVocabulary());

/**
 * The vocabulary with a house's words added. A word that already means something else keeps its meaning and
 * is returned as a conflict, as is one whose attribute does not exist. Making one takes a few milliseconds:
 * keep it while the house's words stay the same.
 */
export function extendVocabulary(
  vocabulary: Vocabulary,
  houseWords: readonly HouseWord[],
): { vocabulary: Vocabulary; conflicts: readonly HouseWordConflict[] } {
  const conflicts: HouseWordConflict[] = [];
  const sound: HouseWord[] = [...vocabulary.houseWords];
  for (const word of houseWords) {
    if (phraseWords(word.words).length === 0) conflicts.push({ ...word, reason: 'no words' });
    else if (!vocabulary.attributes.has(word.attribute))
      conflicts.push({ ...word, reason: 'unknown attribute' });
    else sound.push(word);
  }
  const laidOut = layOut([...vocabulary.attributes.values()], sound);
  for (const { words, kept, wanted } of laidOut.conflicts) {
    conflicts.push({ words, attribute: wanted, reason: 'already means', means: kept });
  }
  return { vocabulary: laidOut.vocabulary, conflicts };
}

function layOut(
  entries: readonly VocabularyEntry[],
  houseWords: readonly HouseWord[],
): { vocabulary: Vocabulary; conflicts: readonly PhraseConflict[] } {
  const attributes = new Map(entries.map((entry) => [entry.name, entry]));
  const phrases: [string, VocabularyEntry][] = [];
  for (const entry of entries) for (const word of [entry.name, ...entry.words]) phrases.push([word, entry]);
  for (const { words, attribute } of houseWords) {
    const entry = attributes.get(attribute);
    if (entry !== undefined) phrases.push([words, entry]);
  }
  const { lexicon, conflicts } = buildLexicon(phrases);
  const refused = new Set(conflicts.map(({ words, wanted }) => `${words}\n${wanted}`));
  const taken = houseWords.filter(({ words, attribute }) => !refused.has(`${words}\n${attribute}`));
  return { vocabulary: { attributes, houseWords: taken, lexicon }, conflicts };
}

/** The attribute that these words mean, when all of them together are one known phrase; else null. */
export function findAttribute(vocabulary: Vocabulary, words: string): string | null {
  const parts = phraseWords(words);
  const { senseOf } = vocabulary.lexicon;
  const [first] = parts;
  if (first === undefined) return null;
  const found = longestFrom(senseOf(first), 0, (i) => {
    const part = parts[i];
    return part === undefined ? null : senseOf(part).forms;
  });
  return found !== null && found.length === parts.length ? found.value.name : null;
}

/** What an attribute is: its entry and the words that a house has taught for it; null when there is none. */
export function describeAttribute(
  vocabulary: Vocabulary,
  attribute: string,
): { entry: VocabularyEntry; taught: readonly string[] } | null {
  const entry = vocabulary.attributes.get(attribute);
  if (entry === undefined) return null;
  const taught = vocabulary.houseWords.filter((word) => word.attribute === attribute);
  return { entry, taught: taught.map(({ words }) => words) };
}

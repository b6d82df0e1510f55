import { emptyTree, longestOfForms, type PhraseTree, plant } from './phrases.js';
import { tokenise } from './tokenise.js';
import { shippedVocabulary, type VocabularyEntry } from './vocabulary-file.js';
import { formFinder, type WordForm } from './word-forms.js';

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
  readonly phrases: PhraseTree<VocabularyEntry>;
  /** What a word of a note may stand for, the word itself first; none for a word of no phrase. */
  readonly formsOf: (word: string) => readonly WordForm[];
};

/** The vocabulary as shipped, without any house's words. */
export const SHIPPED_VOCABULARY: Vocabulary = layOut(shippedVocabulary().attributes, []).vocabulary;

/**
 * The vocabulary with a house's words added. A word that already means something else keeps its meaning and
 * is returned as a conflict, as is one whose attribute does not exist. Making one takes a few milliseconds:
 * keep it while the house's words stay the same.
 */
export function extendVocabulary(
  vocabulary: Vocabulary,
  houseWords: readonly HouseWord[],
): { vocabulary: Vocabulary; conflicts: readonly HouseWordConflict[] } {
  const unsound: HouseWordConflict[] = [];
  const sound: HouseWord[] = [...vocabulary.houseWords];
  for (const word of houseWords) {
    if (phraseWords(word.words).length === 0) unsound.push({ ...word, reason: 'no words' });
    else if (!vocabulary.attributes.has(word.attribute))
      unsound.push({ ...word, reason: 'unknown attribute' });
    else sound.push(word);
  }
  const laidOut = layOut([...vocabulary.attributes.values()], sound);
  return { vocabulary: laidOut.vocabulary, conflicts: [...unsound, ...laidOut.conflicts] };
}

/** Lays out phrases for reading. Earlier ones keep what later ones claim as well. */
function layOut(
  entries: readonly VocabularyEntry[],
  houseWords: readonly HouseWord[],
): { vocabulary: Vocabulary; conflicts: readonly HouseWordConflict[] } {
  const attributes = new Map(entries.map((entry) => [entry.name, entry]));
  const phrases = emptyTree<VocabularyEntry>();
  const words = new Map<string, VocabularyEntry | null>();
  const runTogether: [string, VocabularyEntry][] = [];
  const add = (phrase: string, entry: VocabularyEntry): VocabularyEntry => {
    const parts = phraseWords(phrase);
    for (const part of parts) words.set(part, words.get(part) ?? (parts.length === 1 ? entry : null));
    if (parts.length === 2) runTogether.push([parts.join(''), entry]);
    return plant(phrases, parts, entry);
  };
  for (const entry of entries) for (const phrase of [entry.name, ...entry.words]) add(phrase, entry);
  const taken: HouseWord[] = [];
  const conflicts: HouseWordConflict[] = [];
  for (const word of houseWords) {
    const entry = attributes.get(word.attribute);
    const means = entry === undefined ? word.attribute : add(word.words, entry).name;
    if (means === word.attribute) taken.push(word);
    else conflicts.push({ words: word.words, attribute: word.attribute, reason: 'already means', means });
  }
  for (const [word, entry] of runTogether) {
    plant(phrases, [word], entry);
    if (!words.has(word)) words.set(word, entry);
  }
  return { vocabulary: { attributes, houseWords: taken, phrases, formsOf: formFinder(words) }, conflicts };
}

/** Words of a phrase as the tokeniser gives them, so that "Baker's" and "tea-like" match their spellings. */
export function phraseWords(phrase: string): readonly string[] {
  return tokenise(phrase)
    .filter(({ kind }) => kind !== 'mark' && kind !== 'break')
    .map(({ text }) => text);
}

/** The attribute that these words mean, when all of them together are one known phrase; else null. */
export function findAttribute({ phrases, formsOf }: Vocabulary, words: string): string | null {
  const parts = phraseWords(words).map(formsOf);
  const found = longestOfForms(phrases, 0, (i) => parts[i] ?? null);
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

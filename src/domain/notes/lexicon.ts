import { COMMON_WORDS } from './common-words.js';
import { CUES } from './cues.js';
import { misspellingFinder } from './misspelling.js';
import { emptyTree, type PhraseTree, plant } from './phrase-tree.js';
import { tokenise } from './tokenise.js';
import type { VocabularyEntry } from './vocabulary-file.js';
import { baseForms, type WordForm } from './word-forms.js';
import { type WordSense, wordSense } from './word-sense.js';

/** The vocabulary's phrases laid out for reading, with a memory of what each word met may stand for. */
export type Lexicon = {
  readonly phrases: PhraseTree<VocabularyEntry>;
  /** Every word that occurs in a phrase; the entry when the word alone is a phrase. */
  readonly words: ReadonlyMap<string, VocabularyEntry | null>;
  /** What a word can do in a note; found once for each word and remembered. */
  readonly senseOf: (word: string) => WordSense;
};

/** A phrase claimed for two attributes: the one that keeps it and the one that wanted it. */
export type PhraseConflict = { readonly words: string; readonly kept: string; readonly wanted: string };

const REMEMBERED = 50_000;
const LONGEST_WORD = 40;
/** Common words that only look like a form of a taste word. */
const NO_FORM = new Set('brother liter smother supplier applies butterflies denies'.split(' '));
const ADJECTIVE_KINDS = new Set([
  'taste',
  'mouthfeel',
  'body',
  'acidity',
  'sweetness',
  'aftertaste',
  'overall',
]);

/** Words of a phrase as the tokeniser gives them, so that "Baker's" and "tea-like" match their spellings. */
export function phraseWords(phrase: string): readonly string[] {
  const words: string[] = [];
  for (const token of tokenise(phrase))
    if (token.kind !== 'mark' && token.kind !== 'break') words.push(token.text);
  return words;
}

/** Lays out entries for reading. Earlier entries keep a phrase that later ones claim as well. */
export function buildLexicon(entries: Iterable<readonly [phrase: string, entry: VocabularyEntry]>): {
  lexicon: Lexicon;
  conflicts: readonly PhraseConflict[];
} {
  const phrases = emptyTree<VocabularyEntry>();
  const words = new Map<string, VocabularyEntry | null>();
  const conflicts: PhraseConflict[] = [];
  const squashed: [string, VocabularyEntry][] = [];
  for (const [phrase, entry] of entries) {
    const parts = phraseWords(phrase);
    const kept = plant(phrases, parts, entry);
    if (kept.name !== entry.name) conflicts.push({ words: phrase, kept: kept.name, wanted: entry.name });
    for (const part of parts) words.set(part, words.get(part) ?? (parts.length === 1 ? entry : null));
    if (parts.length === 2) squashed.push([parts.join(''), entry]);
  }
  for (const [word, entry] of squashed) {
    plant(phrases, [word], entry);
    if (!words.has(word)) words.set(word, entry);
  }
  return { lexicon: { phrases, words, senseOf: rememberSenses(phrases, words) }, conflicts };
}

function rememberSenses(
  phrases: PhraseTree<VocabularyEntry>,
  words: ReadonlyMap<string, VocabularyEntry | null>,
): (word: string) => WordSense {
  const remembered = new Map<string, WordSense>();
  const misspelt = misspellingFinder(words);
  return (word) => {
    const before = remembered.get(word);
    if (before !== undefined) return before;
    const sense = wordSense(findForms(word, words, misspelt), phrases, CUES.next.get(word) ?? null);
    if (remembered.size < REMEMBERED) remembered.set(word, sense);
    return sense;
  };
}

function findForms(
  word: string,
  words: ReadonlyMap<string, VocabularyEntry | null>,
  misspelt: (word: string) => string | null,
): readonly WordForm[] {
  if (word.length > LONGEST_WORD) return [];
  const whole = (words.get(word) ?? null) !== null;
  const forms: WordForm[] = words.has(word) ? [{ word, twist: null }] : [];
  const common = COMMON_WORDS.has(word);
  for (const form of NO_FORM.has(word) ? [] : baseForms(word)) {
    const entry = words.get(form.word);
    if (common && form.twist === null && !/(?:s|ness)$/.test(word)) continue;
    if (entry === undefined || (whole && form.twist !== null)) continue;
    if (entry === null ? form.of === 'noun' : takes(entry, form.of)) {
      forms.push({ word: form.word, twist: form.twist });
    }
  }
  if (forms.length > 0 || common) return forms;
  const calm = word.replace(/(.)\1{2,}/g, '$1');
  if (calm !== word) return findForms(calm, words, misspelt);
  if (baseForms(word).some((form) => words.has(form.word))) return [];
  const meant = misspelt(word) ?? (word.endsWith('s') ? misspelt(word.slice(0, -1)) : null);
  return meant === null ? [] : [{ word: meant, twist: null }];
}

function takes(entry: VocabularyEntry, of: 'noun' | 'adjective' | 'any'): boolean {
  return of === 'any' || ADJECTIVE_KINDS.has(entry.kind) === (of === 'adjective');
}

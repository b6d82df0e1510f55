import type { Cue } from './cue-words.js';
import { type Found, foundAt, type PhraseTree } from './phrase-tree.js';
import type { VocabularyEntry } from './vocabulary-file.js';
import type { Twist, WordForm } from './word-forms.js';

/** Where a word's form leads in the tree of phrases. */
type PhraseStart = { readonly node: PhraseTree<VocabularyEntry>; readonly twist: Twist | null };

/**
 * What a word can do in a note: the words it may stand for (itself first, none for a word of no phrase), the
 * phrases and the cues that it begins, and what it means when nothing after it makes a longer phrase.
 */
export type WordSense = {
  readonly forms: readonly WordForm[];
  readonly starts: readonly PhraseStart[];
  readonly alone: Found<VocabularyEntry> | null;
  /** Whether some phrase of the vocabulary goes on after it. */
  readonly goesOn: boolean;
  /** Where it leads in the tree of cues, and the cue that it is by itself. */
  readonly cue: PhraseTree<Cue> | null;
  readonly cueAlone: Found<Cue> | null;
};

/** Works out a word's sense from the words it may stand for and the cues that it begins. */
export function wordSense(
  forms: readonly WordForm[],
  phrases: PhraseTree<VocabularyEntry>,
  cue: PhraseTree<Cue> | null,
): WordSense {
  const starts: PhraseStart[] = [];
  for (const { word, twist } of forms) {
    const node = phrases.next.get(word);
    if (node !== undefined) starts.push({ node, twist });
  }
  const first = starts.find(({ node }) => node.value !== null);
  return {
    forms,
    starts,
    alone: first === undefined ? null : foundAt(first.node, 1, first.twist),
    goesOn: starts.some(({ node }) => node.next.size > 0),
    cue,
    cueAlone: cue === null ? null : foundAt(cue, 1, null),
  };
}

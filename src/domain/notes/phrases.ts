import type { Twist, WordForm } from './word-forms.js';

/** A list of words, written with spaces between. */
export function wordSet(...lines: readonly string[]): ReadonlySet<string> {
  return new Set(lines.join(' ').split(' '));
}

/** A list of phrases of folded words (no apostrophes), written with commas between. */
export function phraseList(...lines: readonly string[]): readonly string[] {
  return lines.join(', ').split(', ');
}

/** A tree of phrases, one word a step, for finding the longest known phrase that begins at a word. */
export type PhraseTree<Value> = { readonly next: Map<string, PhraseTree<Value>>; value: Value | null };

export function emptyTree<Value>(): PhraseTree<Value> {
  return { next: new Map(), value: null };
}

/** Lays out phrases, words with spaces between, listed under what they mean. The first meaning listed is kept. */
export function treeOf<Value extends string>(
  phrases: Readonly<Record<Value, readonly string[]>>,
): PhraseTree<Value> {
  const tree = emptyTree<Value>();
  for (const value in phrases) for (const phrase of phrases[value]) plant(tree, phrase.split(' '), value);
  return tree;
}

/** Plants a phrase unless it is there already or has no words; returns the value that it has from now on. */
export function plant<Value>(tree: PhraseTree<Value>, words: readonly string[], value: Value): Value {
  if (words.length === 0) return value;
  let node = tree;
  for (const word of words) {
    const child = node.next.get(word) ?? emptyTree<Value>();
    node.next.set(word, child);
    node = child;
  }
  node.value ??= value;
  return node.value;
}

/** A phrase found: what it means, how many words it has, and what the form of a word added to it. */
export type Found<Value> = { readonly value: Value; readonly length: number; readonly twist: Twist | null };

/**
 * The longest phrase that begins at `from`. `formsAt(i)` gives what the text's word i may stand for, the word
 * itself first; null ends the walk. Of phrases of one length the first found is taken. Phrases are short, so
 * this is bounded work.
 */
export function longestOfForms<Value>(
  tree: PhraseTree<Value>,
  from: number,
  formsAt: (index: number) => readonly WordForm[] | null,
): Found<Value> | null {
  let best: Found<Value> | null = null;
  const walk = (node: PhraseTree<Value>, length: number, twist: Twist | null): void => {
    if (node.value !== null && length > (best?.length ?? 0)) best = { value: node.value, length, twist };
    if (node.next.size === 0) return;
    for (const form of formsAt(from + length) ?? []) {
      const child = node.next.get(form.word);
      if (child !== undefined) walk(child, length + 1, form.twist ?? twist);
    }
  };
  walk(tree, 0, null);
  return best;
}

/** The longest phrase that begins at `from`, word for word; a null word ends the walk. */
export function longestExact<Value>(
  tree: PhraseTree<Value>,
  from: number,
  wordAt: (index: number) => string | null,
): Found<Value> | null {
  return longestOfForms(tree, from, (index) => {
    const word = wordAt(index);
    return word === null ? null : [{ word, twist: null }];
  });
}

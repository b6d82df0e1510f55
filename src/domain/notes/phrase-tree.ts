import type { Twist, WordForm } from './word-forms.js';

/** A tree of phrases, one word a step, for finding the longest known phrase that begins at a word. */
export type PhraseTree<Value> = { readonly next: Map<string, PhraseTree<Value>>; value: Value | null };

export function emptyTree<Value>(): PhraseTree<Value> {
  return { next: new Map(), value: null };
}

/** Plants a phrase unless it is there already; returns the value that the phrase has from now on. */
export function plant<Value>(tree: PhraseTree<Value>, words: readonly string[], value: Value): Value {
  let node = tree;
  for (const word of words) {
    let child = node.next.get(word);
    if (child === undefined) {
      child = emptyTree();
      node.next.set(word, child);
    }
    node = child;
  }
  node.value ??= value;
  return node.value;
}

/** A phrase found: what it means, how many words long it is, and what the form of a word added to it. */
export type Found<Value> = { readonly value: Value; readonly length: number; readonly twist: Twist | null };

/** The longest phrase that begins at `from`, word for word; a null word ends the walk. */
export function longestExact<Value>(
  tree: PhraseTree<Value>,
  from: number,
  wordAt: (index: number) => string | null,
): Found<Value> | null {
  let best: Found<Value> | null = null;
  let node = tree;
  for (let i = from; ; i += 1) {
    const word = wordAt(i);
    const child = word === null ? undefined : node.next.get(word);
    if (child === undefined) return best;
    node = child;
    if (node.value !== null) best = { value: node.value, length: i + 1 - from, twist: null };
  }
}

/**
 * The longest phrase that begins at `from`. `formsAt(i)` gives what the text's word i may stand for, the
 * word itself first; null ends the walk. Phrases are short, so this is bounded work.
 */
export function longestPhrase<Value>(
  tree: PhraseTree<Value>,
  from: number,
  formsAt: (index: number) => readonly WordForm[] | null,
): Found<Value> | null {
  return walk(tree, from, 0, null, formsAt, null);
}

function walk<Value>(
  node: PhraseTree<Value>,
  from: number,
  length: number,
  twist: Twist | null,
  formsAt: (index: number) => readonly WordForm[] | null,
  before: Found<Value> | null,
): Found<Value> | null {
  let best = before;
  if (node.value !== null && (best === null || length > best.length))
    best = { value: node.value, length, twist };
  if (node.next.size === 0) return best;
  const forms = formsAt(from + length);
  if (forms === null) return best;
  for (const form of forms) {
    const child = node.next.get(form.word);
    if (child !== undefined) best = walk(child, from, length + 1, form.twist ?? twist, formsAt, best);
  }
  return best;
}

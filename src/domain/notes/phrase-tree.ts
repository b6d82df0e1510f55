import type { Twist, WordForm } from './word-forms.js';

/**
 * A tree of phrases, one word a step, for finding the longest known phrase that begins at a word. `words`
 * are the words that lead to a node, joined by spaces.
 */
export type PhraseTree<Value> = {
  readonly words: string;
  readonly next: Map<string, PhraseTree<Value>>;
  value: Value | null;
};

export function emptyTree<Value>(words = ''): PhraseTree<Value> {
  return { words, next: new Map(), value: null };
}

/** Plants a phrase unless it is there already; returns the value that the phrase has from now on. */
export function plant<Value>(tree: PhraseTree<Value>, words: readonly string[], value: Value): Value {
  let node = tree;
  for (const word of words) {
    let child = node.next.get(word);
    if (child === undefined) {
      child = emptyTree(node === tree ? word : `${node.words} ${word}`);
      node.next.set(word, child);
    }
    node = child;
  }
  node.value ??= value;
  return node.value;
}

/**
 * A phrase found: what it means, its words as they were planted, how many they are, and what the form of a
 * word added to it.
 */
export type Found<Value> = {
  readonly value: Value;
  readonly words: string;
  readonly length: number;
  readonly twist: Twist | null;
};

/** The longest phrase that begins at `from`, word for word; a null word ends the walk. */
export function longestExact<Value>(
  tree: PhraseTree<Value>,
  from: number,
  wordAt: (index: number) => string | null,
): Found<Value> | null {
  const word = wordAt(from);
  const start = word === null ? undefined : tree.next.get(word);
  return start === undefined ? null : exactAfter(start, from, wordAt);
}

/** The longest phrase that begins with the word at `from`, which led to `start`. */
export function exactAfter<Value>(
  start: PhraseTree<Value>,
  from: number,
  wordAt: (index: number) => string | null,
): Found<Value> | null {
  let best = start;
  let length = 1;
  let node = start;
  for (let i = from + 1; node.next.size > 0; i += 1) {
    const word = wordAt(i);
    const child = word === null ? undefined : node.next.get(word);
    if (child === undefined) break;
    node = child;
    if (node.value === null) continue;
    best = node;
    length = i + 1 - from;
  }
  return foundAt(best, length, null);
}

/** What a node of the tree means, when a phrase ends there. */
export function foundAt<Value>(
  { value, words }: PhraseTree<Value>,
  length: number,
  twist: Twist | null,
): Found<Value> | null {
  return value === null ? null : { value, words, length, twist };
}

/**
 * The longest phrase that goes on at `from` from a node `length` words deep. `formsAt(i)` gives what the
 * text's word i may stand for, the word itself first; null ends the walk. Phrases are short, so this is
 * bounded work. `before` is the best found so far, kept unless a longer one is found.
 */
export function longestAfter<Value>(
  node: PhraseTree<Value>,
  from: number,
  length: number,
  twist: Twist | null,
  formsAt: (index: number) => readonly WordForm[] | null,
  before: Found<Value> | null,
): Found<Value> | null {
  let best = before;
  if (node.value !== null && (best === null || length > best.length)) best = foundAt(node, length, twist);
  if (node.next.size === 0) return best;
  const forms = formsAt(from);
  if (forms === null) return best;
  for (const form of forms) {
    const child = node.next.get(form.word);
    if (child !== undefined)
      best = longestAfter(child, from + 1, length + 1, form.twist ?? twist, formsAt, best);
  }
  return best;
}

/** Something people call by name: a coffee or a recipe. */
type Named = { readonly id: number; readonly name: string; readonly origin?: string | null };

/** What a name points at; `many` when it could be several. */
type Found<T> =
  | { readonly kind: 'one'; readonly item: T }
  | { readonly kind: 'many'; readonly items: readonly T[] }
  | { readonly kind: 'none' };

/**
 * Finds what was said among the names: the whole name, else its beginning, else the beginning of one of its
 * words, else its origin. Case and accents do not matter.
 */
export function findNamed<T extends Named>(said: string, items: readonly T[]): Found<T> {
  const wanted = foldName(said);
  if (wanted === '') return { kind: 'none' };
  const ways: readonly ((item: T) => boolean)[] = [
    (item) => foldName(item.name) === wanted,
    (item) => foldName(item.name).startsWith(wanted),
    (item) => ` ${foldName(item.name)}`.includes(` ${wanted}`),
    (item) => item.origin !== null && item.origin !== undefined && foldName(item.origin).startsWith(wanted),
  ];
  for (const way of ways) {
    const hits = items.filter(way);
    const [only] = hits;
    if (only && hits.length === 1) return { kind: 'one', item: only };
    if (hits.length > 1) return { kind: 'many', items: hits };
  }
  return { kind: 'none' };
}

/** Finds the longest beginning of the words that names something, and returns the words after it. */
export function findLeading<T extends Named>(
  words: readonly string[],
  items: readonly T[],
): { readonly found: Found<T>; readonly rest: readonly string[] } {
  for (let count = words.length; count > 0; count -= 1) {
    const found = findNamed(words.slice(0, count).join(' '), items);
    if (found.kind !== 'none') return { found, rest: words.slice(count) };
  }
  return { found: { kind: 'none' }, rest: words };
}

/** Names that may have been meant: those that share most of their letters in order, at most three. */
export function nearNames<T extends Named>(said: string, items: readonly T[]): readonly T[] {
  const wanted = pairs(foldName(said));
  const scored = items.map((item) => {
    const has = pairs(foldName(item.name));
    const shared = wanted.filter((pair) => has.includes(pair)).length;
    return { item, likeness: (2 * shared) / Math.max(1, wanted.length + has.length) };
  });
  return scored
    .filter((entry) => entry.likeness >= 0.45)
    .sort((a, b) => b.likeness - a.likeness)
    .slice(0, 3)
    .map((entry) => entry.item);
}

function pairs(text: string): readonly string[] {
  return Array.from({ length: Math.max(0, text.length - 1) }, (_, at) => text.slice(at, at + 2));
}

/** A name as it is compared: without case, accents and invisible characters, spaces single. */
export function foldName(text: string): string {
  return text
    .normalize('NFKD')
    .replace(/[\p{M}\p{Cf}]/gu, '')
    .toLowerCase()
    .replace(/\s+/gu, ' ')
    .trim();
}

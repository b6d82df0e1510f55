/**
 * Edits between two words: insertions, deletions, replacements and swaps of neighbours, each letter moved at
 * most once (optimal string alignment, the restricted Damerau–Levenshtein distance). Gives `limit + 1` as
 * soon as the distance is sure to be greater than `limit`.
 */
export function editDistance(a: string, b: string, limit: number): number {
  if (Math.abs(a.length - b.length) > limit) return limit + 1;
  let beforeLast: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i += 1) {
    const row = [i];
    let least = i;
    for (let j = 1; j <= b.length; j += 1) {
      const cost = a[i - 1] === b[j - 1] ? 0 : 1;
      let edits = Math.min((last[j] ?? 0) + 1, (row[j - 1] ?? 0) + 1, (last[j - 1] ?? 0) + cost);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) {
        edits = Math.min(edits, (beforeLast[j - 2] ?? 0) + 1);
      }
      row.push(edits);
      least = Math.min(least, edits);
    }
    if (least > limit) return limit + 1;
    beforeLast = last;
    last = row;
  }
  return last[b.length] ?? limit + 1;
}

/** The word most likely meant, or null when none is near: at most a slip for every three letters, one at least. */
export function nearestWord(word: string, known: readonly string[]): string | null {
  const said = word.toLowerCase();
  const begun = known.filter((name) => name.toLowerCase().startsWith(said));
  if (said.length >= 2 && begun.length === 1) return begun[0] ?? null;
  const limit = Math.max(1, Math.floor(said.length / 3));
  const ranked = known
    .map((name) => ({ name, edits: editDistance(said, name.toLowerCase(), limit) }))
    .sort((a, b) => a.edits - b.edits);
  const best = ranked[0];
  return best && best.edits <= limit ? best.name : null;
}

/** Damerau's edit distance with adjacent swaps: how many slips of a thumb lie between two words. */
function slips(a: string, b: string): number {
  const rows: number[][] = [Array.from({ length: b.length + 1 }, (_, index) => index)];
  for (let i = 1; i <= a.length; i += 1) {
    const row = [i];
    for (let j = 1; j <= b.length; j += 1) {
      const same = a[i - 1] === b[j - 1] ? 0 : 1;
      const swap =
        i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]
          ? (rows[i - 2]?.[j - 2] ?? 0) + 1
          : Infinity;
      row.push(
        Math.min(
          (rows[i - 1]?.[j] ?? 0) + 1,
          (row[j - 1] ?? 0) + 1,
          (rows[i - 1]?.[j - 1] ?? 0) + same,
          swap,
        ),
      );
    }
    rows.push(row);
  }
  return rows[a.length]?.[b.length] ?? 0;
}

/** The word most likely meant, or null when none is near: at most a slip for every three letters, one at least. */
export function nearestWord(word: string, known: readonly string[]): string | null {
  const said = word.toLowerCase();
  const begun = known.filter((name) => name.toLowerCase().startsWith(said));
  if (said.length >= 2 && begun.length === 1) return begun[0] ?? null;
  const ranked = known
    .map((name) => ({ name, distance: slips(said, name.toLowerCase()) }))
    .sort((a, b) => a.distance - b.distance);
  const best = ranked[0];
  return best && best.distance <= Math.max(1, Math.floor(said.length / 3)) ? best.name : null;
}

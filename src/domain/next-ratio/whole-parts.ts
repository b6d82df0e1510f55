/** Totals of parts to look among: ratios that a spoon or a scale can follow, the simplest first. */
const TOTALS = [4, 5, 6, 8, 10, 12, 16, 20] as const;
/** More candidates than this are not looked at, so that many components stay quick. */
const MOST_CANDIDATES = 4000;

function splits(total: number, components: number): readonly (readonly number[])[] {
  if (components === 1) return [[total]];
  return Array.from({ length: total + 1 }, (_, first) =>
    splits(total - first, components - 1).map((rest) => [first, ...rest]),
  ).flat();
}

function divisor(a: number, b: number): number {
  return b === 0 ? a : divisor(b, a % b);
}

/** Number of ways to split a total among components. */
function countSplits(total: number, components: number): number {
  let count = 1;
  for (let index = 1; index < components; index += 1) count = (count * (total + index)) / index;
  return Math.round(count);
}

/**
 * Ratios in whole-number parts of up to 20 in all, in lowest terms, the simplest first and each only once.
 *
 * @param components number of components, 1 or more
 */
export function wholePartRatios(components: number): readonly (readonly number[])[] {
  const known = KNOWN.get(components) ?? listRatios(components);
  KNOWN.set(components, known);
  return known;
}

/** The lists never change, and every digest asks for one. */
const KNOWN = new Map<number, readonly (readonly number[])[]>();

function listRatios(components: number): readonly (readonly number[])[] {
  const ratios: (readonly number[])[] = [];
  const seen = new Set<string>();
  for (const total of TOTALS) {
    if (countSplits(total, components) > MOST_CANDIDATES) break;
    for (const parts of splits(total, components)) {
      const common = parts.reduce(divisor, 0);
      const lowest = parts.map((part) => part / common);
      const key = lowest.join(':');
      if (seen.has(key)) continue;
      seen.add(key);
      ratios.push(lowest);
    }
  }
  return ratios;
}

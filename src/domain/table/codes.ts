import { seededFractions, shuffled } from '../stats/seeded-random.js';

/** Codes with a look or a meaning of their own (practice of sensory laboratories, no source). */
const TELLING = ['100', '123', '555', '666', '999'];
const NONZERO_DIGITS = ['1', '2', '3', '4', '5', '6', '7', '8', '9'];

/**
 * Three-digit codes for blind cups: no leading zero, never the same first digit twice while digits last,
 * none used at the last table, none that reads like another (same digits in another order, or two digits
 * alike in place). Random, and the same for the same seed (Meilgaard, Civille & Carr, Sensory Evaluation
 * Techniques: random three-digit codes).
 *
 * @param taken codes of the last table and of cups that already have one
 * @throws {RangeError} when so many codes cannot be kept apart
 */
export function drawCodes(
  count: number,
  taken: readonly string[],
  seed: number,
  onTable: readonly string[] = [],
): readonly string[] {
  const avoided = new Set([...TELLING, ...taken, ...onTable]);
  const all = Array.from({ length: 900 }, (_, index) => String(index + 100)).filter(
    (code) => !avoided.has(code),
  );
  const pool = shuffled(all, seededFractions(seed ^ 0xc0de));
  const drawn: string[] = [];
  while (drawn.length < count) {
    const present = [...onTable, ...drawn];
    const uses = new Map(
      NONZERO_DIGITS.map((digit) => [digit, present.filter((code) => code[0] === digit).length]),
    );
    const fewest = Math.min(...uses.values());
    const next = pool.find(
      (code) => uses.get(code[0] ?? '') === fewest && present.every((other) => tellApart(code, other)),
    );
    if (next === undefined) throw new RangeError(`I cannot draw ${count} codes that are easy to tell apart.`);
    drawn.push(next);
  }
  return drawn;
}

/** Whether two codes cannot be taken for each other. */
export function tellApart(a: string, b: string): boolean {
  const sorted = (code: string) => [...code].sort().join('');
  const alike = [...a].filter((digit, place) => digit === b[place]).length;
  return alike < 2 && sorted(a) !== sorted(b);
}

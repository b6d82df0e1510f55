import { sameRatio } from '../ratio/parts.js';
import type { Cup, CupPart } from '../record/tasting.js';
import { seededFractions, shuffled } from '../stats/seeded-random.js';

/** A cup to be set: what is in it, where it stands and how it is called. */
type LaidCup = Pick<Cup, 'kind' | 'parts' | 'position' | 'label' | 'code'>;

type TablePlan = {
  /** Coffees and parts of the blend as it stands, in recipe order. */
  readonly recipe: readonly CupPart[];
  /** Other ratios, parts in recipe order; one that repeats the blend or another is set once. */
  readonly ratios: readonly (readonly number[])[];
  readonly blind: boolean;
  readonly seed: number;
  /** Codes of the last table. */
  readonly takenCodes: readonly string[];
};

/**
 * The cups of a component tasting: every coffee alone, the blend, then the other ratios. On a blind table
 * they stand in a shuffled order with codes, so that neither place nor letter says what is in a cup.
 */
export function layCups(plan: TablePlan): readonly LaidCup[] {
  const inOrder = contents(plan);
  const cups = plan.blind ? shuffled(inOrder, seededFractions(plan.seed)) : inOrder;
  const codes = plan.blind ? drawCodes(cups.length, plan.takenCodes, plan.seed) : [];
  return cups.map((cup, position) => ({
    ...cup,
    position,
    label: cupLabel(position),
    code: codes[position] ?? null,
  }));
}

function contents(plan: TablePlan): readonly Pick<LaidCup, 'kind' | 'parts'>[] {
  const alone = plan.recipe.map((part) => ({
    kind: 'component' as const,
    parts: [{ coffeeId: part.coffeeId, parts: 1 }],
  }));
  const blend = { kind: 'blend' as const, parts: plan.recipe };
  const seen: (readonly number[])[] = [plan.recipe.map((part) => part.parts)];
  const ratios = plan.ratios.flatMap((ratio) => {
    if (seen.some((known) => sameRatio(known, ratio))) return [];
    seen.push(ratio);
    return [{ kind: 'ratio' as const, parts: ratioParts(plan.recipe, ratio) }];
  });
  return [...alone, blend, ...ratios];
}

/** Parts by coffee, leaving out coffees with none. */
export function ratioParts(recipe: readonly CupPart[], ratio: readonly number[]): readonly CupPart[] {
  return recipe
    .map(({ coffeeId }, index) => ({ coffeeId, parts: ratio[index] ?? 0 }))
    .filter((part) => part.parts > 0);
}

/** Letters for cups in table order: A, B … Z, then AA, AB … */
export function cupLabel(position: number): string {
  const letter = String.fromCharCode(65 + (position % 26));
  return position < 26 ? letter : `${cupLabel(Math.floor(position / 26) - 1)}${letter}`;
}

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

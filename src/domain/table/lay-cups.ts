import { sameRatio } from '../ratio/parts.js';
import type { CupKind, CupPart } from '../record/tasting.js';
import { seededFractions, shuffled } from '../stats/seeded-random.js';
import { drawCodes } from './codes.js';
import { cupLabel } from './labels.js';

/** A cup to be set: what is in it, where it stands and how it is called. */
export type LaidCup = {
  readonly kind: CupKind;
  readonly parts: readonly CupPart[];
  readonly position: number;
  readonly label: string;
  readonly code: string | null;
};

export type TablePlan = {
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
  const cups = contents(plan);
  if (!plan.blind) {
    return cups.map((cup, position) => ({ ...cup, position, label: cupLabel(position), code: null }));
  }
  const codes = drawCodes(cups.length, plan.takenCodes, plan.seed);
  return shuffled(cups, seededFractions(plan.seed)).map((cup, position) => ({
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

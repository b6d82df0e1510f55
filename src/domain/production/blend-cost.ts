import type { HouseFacts } from '../house/house-facts.js';
import { WHOLE_BP } from '../measure/hundredths.js';
import type { RoastGroupNote } from './roast-groups.js';

/** What a kilogram and a bag cost, and their price at a margin; whole cents. */
type BlendCost = {
  readonly perKgCents: number;
  readonly perBagCents: number;
  /** Margin as a share of the price, hundredths of a percent. */
  readonly marginBp: number;
  readonly pricePerKgCents: number;
  readonly pricePerBagCents: number;
};

/** A cost, or the coffees whose green price is not known. */
export type KnownCost =
  | { readonly ok: true; readonly cost: BlendCost }
  | { readonly ok: false; readonly priceMissing: readonly string[] };

/** What a cost depends on besides the groups. */
type CostFacts = Pick<HouseFacts, 'roastingCostCentsPerKg' | 'bagMg' | 'marginBp'>;

/**
 * Cost per kilogram of finished blend = Σ share × green price / (1 − loss) + roasting cost per roasted
 * kilogram (mass balance); price = cost / (1 − margin), the margin being a share of the price. Rounded once,
 * to whole cents.
 *
 * @param greenPriceCents price of a kilogram of green by coffee; absent or null when not known
 */
export function blendCost(
  groups: readonly RoastGroupNote[],
  greenPriceCents: ReadonlyMap<number, number | null>,
  facts: CostFacts,
): KnownCost {
  const whole = groups.reduce((sum, group) => sum + group.part, 0);
  let cents = facts.roastingCostCentsPerKg;
  const priceMissing: string[] = [];
  for (const group of groups) {
    const share = group.part / whole;
    group.coffees.forEach((coffee, index) => {
      const price = greenPriceCents.get(coffee.coffeeId) ?? null;
      if (price === null) priceMissing.push(coffee.name);
      else cents += share * (group.greenPerRoasted[index] ?? 0) * price;
    });
  }
  if (priceMissing.length > 0) return { ok: false, priceMissing };
  const price = priceAt(cents, facts.marginBp);
  const perBag = (perKg: number) => Math.round((perKg * facts.bagMg) / 1_000_000);
  return {
    ok: true,
    cost: {
      perKgCents: Math.round(cents),
      perBagCents: perBag(cents),
      marginBp: facts.marginBp,
      pricePerKgCents: Math.round(price),
      pricePerBagCents: perBag(price),
    },
  };
}

/** The price that leaves a margin: cost / (1 − margin). Unrounded. */
export function priceAt(costCents: number, marginBp: number): number {
  return costCents / (1 - marginBp / WHOLE_BP);
}

/** The margin a price leaves, as a share of the price in hundredths of a percent; negative below cost. */
export function marginAt(costCents: number, priceCents: number): number {
  return Math.round(((priceCents - costCents) / priceCents) * WHOLE_BP);
}

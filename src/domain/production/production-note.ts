import type { HouseFacts } from '../house/house-facts.js';
import { formatBp } from '../measure/hundredths.js';
import { plainList } from '../measure/plain-list.js';
import { apportionWeight, ceilToStep, floorToStep } from '../measure/scale-step.js';
import { formatGrams } from '../measure/weight.js';
import { type Scoops, scoops } from '../ratio/scoops.js';
import type { Coffee } from '../record/coffee.js';
import type { RecipePart } from '../record/recipe.js';
import { blendCost, type KnownCost } from './blend-cost.js';
import { type JoiningAdvice, joiningAdvice } from './joining-advice.js';
import { type CoffeeWeight, type MeasuredLosses, type RoastGroupNote, roastGroups } from './roast-groups.js';

/** What a production note is worked out from. */
export type ProductionPlan = {
  /** The ratio in recipe order, with how each coffee is joined. */
  readonly parts: readonly RecipePart[];
  readonly coffees: readonly Coffee[];
  readonly groupLossBp: ReadonlyMap<string, number>;
  /** Losses of the house's own roasts; they go before the figures kept with coffees and groups. */
  readonly measured: MeasuredLosses;
  readonly finishedMg: number;
  /** True when the ratio was only poured, never weighed. */
  readonly pouredOnly: boolean;
};

/** What production weighs, pays and watches. All weights in milligrams. */
export type ProductionNote = {
  /** Finished blend, up to the scale step at the drum. */
  readonly finishedMg: number;
  /** Roasted grams of each coffee in the finished batch, adding up to it. */
  readonly roasted: readonly CoffeeWeight[];
  readonly groups: readonly RoastGroupNote[];
  readonly cost: KnownCost;
  /** Advice on every pair of coffees that is not joined green already. */
  readonly joining: readonly JoiningAdvice[];
  /** Weigh each part to within this: half a point of the batch. */
  readonly weighWithinMg: number;
  readonly scoops: Scoops;
  readonly watch: readonly string[];
  /** True when the ratio still has to be cupped as a weighed blend. */
  readonly preview: boolean;
};

/** Weighing may move a share by this much: common practice, no source. */
const WEIGH_WITHIN_SHARE = 0.005;

/**
 * Works out the production note for a finished batch: roasted weights that add up to it at the scale step,
 * green, loads and loss per roast group, cost, joining advice, scoops, tolerance and what to watch.
 *
 * @throws {RangeError} when the house has no drum or the ratio no parts
 */
export function productionNote(plan: ProductionPlan, house: HouseFacts): ProductionNote {
  const parts = plan.parts.map((part) => part.parts);
  const finishedMg = ceilToStep(plan.finishedMg, house.batchStepMg);
  const weights = apportionWeight(finishedMg, parts, house.batchStepMg);
  const portions = plan.parts.flatMap((part, index) => {
    const coffee = plan.coffees.find((candidate) => candidate.id === part.coffeeId);
    return coffee
      ? [{ coffee, roastGroup: part.roastGroup, roastedMg: weights[index] ?? 0, part: part.parts }]
      : [];
  });
  const groups = roastGroups(portions, plan.groupLossBp, house, plan.measured);
  const prices = new Map(plan.coffees.map((coffee) => [coffee.id, coffee.greenPriceCents]));
  return {
    finishedMg,
    roasted: portions.map(({ coffee, roastedMg }) => ({
      coffeeId: coffee.id,
      name: coffee.name,
      mg: roastedMg,
    })),
    groups,
    cost: blendCost(groups, prices, house),
    joining: joiningPairs(portions),
    weighWithinMg: Math.max(
      house.batchStepMg,
      floorToStep(finishedMg * WEIGH_WITHIN_SHARE, house.batchStepMg),
    ),
    scoops: scoops(parts, house.scoopTolerancePoints),
    watch: whatToWatch(plan, groups),
    preview: plan.pouredOnly,
  };
}

function joiningPairs(
  portions: readonly {
    readonly coffee: Coffee;
    readonly roastGroup: string | null;
    readonly roastedMg: number;
  }[],
): readonly JoiningAdvice[] {
  const used = portions.filter((portion) => portion.roastedMg > 0);
  return used.flatMap((a, index) =>
    used
      .slice(index + 1)
      .filter((b) => a.roastGroup === null || a.roastGroup !== b.roastGroup)
      .map((b) => joiningAdvice(a.coffee, b.coffee)),
  );
}

function whatToWatch(plan: ProductionPlan, groups: readonly RoastGroupNote[]): readonly string[] {
  const watch: string[] = [];
  if (plan.pouredOnly) {
    watch.push(
      'Only poured so far: brewed coffees mixed in a cup. Weigh this blend and cup it before production.',
    );
  }
  for (const group of groups) {
    const names = plainList(group.coffees.map((coffee) => coffee.name));
    if (group.lossFrom === 'defaults') {
      watch.push(
        `${names}: the loss of ${formatBp(group.lossBp)} is a default. Weigh green in and roasted out.`,
      );
    }
    if (group.charge.atMinimum) {
      watch.push(
        `${names}: the drum’s minimum leaves about ${formatGrams(group.charge.overMg)} roasted over.`,
      );
    }
    if (group.lossFrom !== 'group' && group.coffees.length > 1) {
      watch.push(
        `${names}: roasted together, their loss is not measured yet; each coffee’s own is used. Weigh the first roast in and out.`,
      );
    }
    if (group.stepErrorPoints > 0.5) {
      const points = group.stepErrorPoints.toFixed(1);
      watch.push(
        `${names}: this scale shifts the ratio by ${points} points. Weigh finer, or make a larger batch.`,
      );
    }
    watch.push(...greenShort(plan.coffees, group));
  }
  return watch;
}

function greenShort(coffees: readonly Coffee[], group: RoastGroupNote): readonly string[] {
  return group.green.flatMap((wanted) => {
    const inStore = coffees.find((coffee) => coffee.id === wanted.coffeeId)?.greenMg ?? null;
    if (inStore === null || inStore >= wanted.mg) return [];
    return [`${wanted.name}: ${formatGrams(wanted.mg)} green wanted, ${formatGrams(inStore)} in store.`];
  });
}

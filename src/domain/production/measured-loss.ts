import { apportionWeight } from '../measure/scale-step.js';
import type { Recipe } from '../record/recipe.js';
import type { LossEstimate } from '../roast/loss.js';
import { greenShares } from './green-shares.js';
import type { Portion } from './roast-groups.js';

/** What the house's own roasts have shown: by coffee roasted alone, and by roast group. */
export type MeasuredLosses = {
  readonly coffees: ReadonlyMap<number, LossEstimate>;
  readonly groups: ReadonlyMap<string, LossEstimate>;
};

export const NOTHING_MEASURED: MeasuredLosses = { coffees: new Map(), groups: new Map() };

/** A version of a recipe and when it came into force. */
type DatedVersion = { readonly recipe: Recipe; readonly at: Date };

/**
 * The roasts of a group that still speak for it: those made while a version was in force in which the group
 * held the same coffees. A group that gained or lost a coffee is another group.
 *
 * @param versions in any order
 */
export function roastsOfGroup<Roast extends { readonly recordedAt: Date }>(
  roasts: readonly Roast[],
  group: string,
  recipe: Recipe,
  versions: readonly DatedVersion[],
): readonly Roast[] {
  const wanted = membersOf(recipe, group);
  const newest = [...versions].sort((a, b) => b.recipe.version - a.recipe.version);
  return roasts.filter((roast) => {
    const then = newest.find((version) => version.at <= roast.recordedAt);
    return then !== undefined && membersOf(then.recipe, group) === wanted;
  });
}

function membersOf(recipe: Recipe, group: string): string {
  const ids = recipe.parts.flatMap((part) => (part.roastGroup === group ? [part.coffeeId] : []));
  return ids.sort((a, b) => a - b).join(' ');
}

/** How a group's charge of green is made up of its coffees, adding up to it in whole steps. Milligrams. */
export function greenOfGroup(
  greenMg: number,
  members: readonly Pick<Portion, 'part' | 'roastedMg'>[],
  lossesBp: readonly number[],
  stepMg: number,
): readonly number[] {
  const parts = members.map((member) => member.part ?? member.roastedMg);
  return apportionWeight(greenMg, greenShares(parts, lossesBp), stepMg);
}

import type { Recipe, RecipePart } from '../record/recipe.js';
import type { CupPart } from '../record/tasting.js';

/** A ratio of a recipe's coffees as a blend to roast: how each is joined, and what is known of its groups. */
export type JoinedRatio = {
  readonly parts: readonly RecipePart[];
  /** Roast groups that still hold all their coffees: what was measured of them holds. */
  readonly wholeGroups: ReadonlySet<string>;
  /** Measured losses kept with those groups, hundredths of a percent. */
  readonly groupLossBp: ReadonlyMap<string, number>;
};

/**
 * Joins a ratio as its recipe does. A coffee that the ratio leaves out leaves its roast group too: the group's
 * measured loss no longer holds, and a coffee left alone in it is joined roasted.
 */
export function joinedRatio(ratio: readonly CupPart[], recipe: Recipe): JoinedRatio {
  const held = recipe.parts.flatMap((part) => {
    const parts = ratio.find((own) => own.coffeeId === part.coffeeId)?.parts ?? 0;
    return parts > 0 ? [{ ...part, parts }] : [];
  });
  const members = (of: readonly RecipePart[], group: string) =>
    of.filter((part) => part.roastGroup === group).length;
  const groups = new Set(recipe.parts.flatMap((part) => part.roastGroup ?? []));
  const wholeGroups = new Set(
    [...groups].filter((group) => members(held, group) === members(recipe.parts, group)),
  );
  return {
    wholeGroups,
    parts: held.map((part) =>
      part.roastGroup !== null && members(held, part.roastGroup) < 2 ? { ...part, roastGroup: null } : part,
    ),
    groupLossBp: new Map([...recipe.groupLossBp].filter(([group]) => wholeGroups.has(group))),
  };
}

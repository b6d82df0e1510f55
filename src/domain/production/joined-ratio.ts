import type { Recipe, RecipePart } from '../record/recipe.js';
import type { CupPart } from '../record/tasting.js';

/** A ratio of a recipe's coffees as a blend to roast: how each is joined, and what is known of its groups. */
type JoinedRatio = {
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
  const groups = new Set(recipe.parts.flatMap((part) => part.roastGroup ?? []));
  const wholeGroups = new Set(
    [...groups].filter((group) => membersOf(held, group).length === membersOf(recipe.parts, group).length),
  );
  return {
    wholeGroups,
    parts: held.map((part) =>
      part.roastGroup !== null && membersOf(held, part.roastGroup).length < 2
        ? { ...part, roastGroup: null }
        : part,
    ),
    groupLossBp: new Map([...recipe.groupLossBp].filter(([group]) => wholeGroups.has(group))),
  };
}

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
  const wanted = membersOf(recipe.parts, group).join(' ');
  const newest = [...versions].sort((a, b) => b.recipe.version - a.recipe.version);
  return roasts.filter((roast) => {
    const then = newest.find((version) => version.at <= roast.recordedAt);
    return then !== undefined && membersOf(then.recipe.parts, group).join(' ') === wanted;
  });
}

/** Ids of the coffees in a roast group, in any order of the recipe the same. */
function membersOf(parts: readonly RecipePart[], group: string): readonly number[] {
  return parts.flatMap((part) => (part.roastGroup === group ? part.coffeeId : [])).sort((a, b) => a - b);
}

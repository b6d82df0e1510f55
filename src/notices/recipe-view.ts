import type { HouseFacts } from '../domain/house/house-facts.js';
import type { KnownCost } from '../domain/production/blend-cost.js';
import type { RoastGroupNote } from '../domain/production/roast-groups.js';
import { formatRatio, percentages } from '../domain/ratio/parts.js';
import type { Coffee } from '../domain/record/coffee.js';
import type { Recipe } from '../domain/record/recipe.js';
import { coffeeName } from '../domain/record/table-setting.js';

/** How a version came to be, ready to be shown. */
export type VersionShown = {
  readonly recipe: Recipe;
  readonly why: string;
  /** The tasting it came from, as it is called: "T4". */
  readonly tasting: string | null;
  readonly who: string;
  readonly day: string;
};

/** A blend with everything its card shows. */
export type RecipeShown = {
  readonly recipe: Recipe;
  readonly coffees: ReadonlyMap<number, Coffee>;
  readonly groups: readonly RoastGroupNote[];
  readonly cost: KnownCost;
  readonly latest: VersionShown;
  readonly versions: number;
};

/** What of the house decides how a blend is shown. */
export type RecipeHouse = Pick<HouseFacts, 'currency' | 'unitSystem' | 'bagMg'>;

/** "50/30/20". */
export function recipeRatio(recipe: Recipe): string {
  return formatRatio(recipe.parts.map((part) => part.parts));
}

/** Names of the coffees in recipe order. */
export function recipeCoffees(recipe: Recipe, coffees: ReadonlyMap<number, Coffee>): readonly string[] {
  return recipe.parts.map((part) => coffeeName(coffees, part.coffeeId));
}

/** Percentages of the finished blend with one decimal, adding up to exactly 100.0. */
export function recipePercentages(recipe: Recipe): readonly number[] {
  return percentages(recipe.parts.map((part) => part.parts));
}

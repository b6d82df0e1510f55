import { formatRatio } from '../ratio/parts.js';
import type { Coffee } from './coffee.js';
import type { Recipe } from './recipe.js';
import type { Cup, Tasting } from './tasting.js';

/** A tasting with what stands on its table. */
export type TableSetting = {
  readonly tasting: Tasting;
  readonly recipe: Recipe;
  /** In table order, without dropped ones. */
  readonly cups: readonly Cup[];
  readonly coffees: ReadonlyMap<number, Coffee>;
};

/** The cup with this id, which results give as text; undefined when it is not on the table. */
export function cupById({ cups }: Pick<TableSetting, 'cups'>, id: number | string): Cup | undefined {
  return cups.find((cup) => String(cup.id) === String(id));
}

/** Name of a coffee, also when it is gone from the shelf's list. */
export function coffeeName(coffees: ReadonlyMap<number, Coffee>, id: number): string {
  return coffees.get(id)?.name ?? 'a coffee no longer listed';
}

/** The cup's parts in recipe order, 0 where a coffee of the recipe is left out. */
export function partsInRecipeOrder(cup: Cup, recipe: Recipe): readonly number[] {
  return recipe.parts.map((part) => cup.parts.find((held) => held.coffeeId === part.coffeeId)?.parts ?? 0);
}

/** "2:1:1", or "50/30/20" for the recipe as it stands. */
export function cupRatio(cup: Cup, recipe: Recipe): string {
  return formatRatio(partsInRecipeOrder(cup, recipe));
}

/** What is in a cup, in words: a coffee's name, or the blend's name and ratio. */
export function cupContents(cup: Cup, setting: Pick<TableSetting, 'recipe' | 'coffees'>): string {
  if (cup.kind === 'component') return coffeeName(setting.coffees, cup.parts[0]?.coffeeId ?? 0);
  const ratio = cupRatio(cup, setting.recipe);
  return cup.kind === 'blend' ? `${setting.recipe.name} ${ratio}` : ratio;
}

/** Cups that hold a ratio of the blend's coffees: what a verdict chooses from. */
export function ratioCups(cups: readonly Cup[]): readonly Cup[] {
  return cups.filter((cup) => cup.kind !== 'component');
}

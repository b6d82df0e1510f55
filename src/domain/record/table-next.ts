import { type NextRatio, nextRatio } from '../next-ratio/next-ratio.js';
import { sameRatio } from '../ratio/parts.js';
import type { TableResult } from './table-result.js';
import { partsInRecipeOrder, ratioCups, type TableSetting } from './table-setting.js';
import type { Cup } from './tasting.js';

/** The next ratio worth pouring at a table, parts in recipe order, and the cup that holds it already, if one does. */
export type TableNext = NextRatio & { readonly held: Cup | null };

/** A step, not a leap: no coffee's share moves further than this from the winner's (a rule of our own). */
const STEP = 0.15;

/** What the likings of a table suggest pouring next, every cup being a point of the mixture of the recipe's coffees. */
export function nextAtTable(setting: TableSetting, result: TableResult): TableNext {
  const { cups, recipe } = setting;
  const next = nextRatio({
    cups: cups
      .map((cup) => ({ cup: String(cup.id), parts: partsInRecipeOrder(cup, recipe) }))
      .filter(({ parts }) => parts.some((part) => part > 0)),
    placings: result.placings,
    winner: result.decision.winner,
    reach: STEP,
  });
  const { suggestion } = next;
  const held = suggestion
    ? ratioCups(cups).find((cup) => sameRatio(partsInRecipeOrder(cup, recipe), suggestion.parts))
    : undefined;
  return { ...next, held: held ?? null };
}

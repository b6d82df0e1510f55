import type { HouseFacts } from '../../domain/house/house-facts.js';
import type { RestDays } from '../../domain/house/rest-window.js';
import { formatWeight } from '../../domain/measure/format-weight.js';
import type { Coffee, Lot } from '../../domain/record/coffee.js';
import type { LossEstimate } from '../../domain/roast/loss-estimate.js';
import { goodUntil, restedOn, restState } from '../../domain/roast/shelf.js';
import { formatShortDay } from '../../domain/when/format-when.js';
import type { LocalDay } from '../../domain/when/local-day.js';

/** A lot on the shelf, and what tastings hold of it ("T4"). */
export type ShelfLot = {
  readonly lot: Lot;
  readonly heldMg: number;
  readonly heldFor: readonly string[];
};

/** A coffee with everything its card shows. */
export type ShelfCoffee = {
  readonly coffee: Coffee;
  readonly loss: LossEstimate;
  /** Rest for the house's usual format. */
  readonly rest: RestDays;
  readonly lots: readonly ShelfLot[];
  /** Blends it is in, with its share: "Harbour Lamp (20 %)". */
  readonly blends: readonly string[];
};

/** What of the house decides how a shelf is shown. */
export type ShelfHouse = Pick<
  HouseFacts,
  'unitSystem' | 'currency' | 'formatByDefault' | 'lossDefaultsBp'
> & {
  readonly today: LocalDay;
};

/** Roasted milligrams of all lots, and how many no tasting holds. */
export function shelfTotals(lots: readonly ShelfLot[]): { readonly mg: number; readonly freeMg: number } {
  const mg = lots.reduce((sum, lot) => sum + lot.lot.mg, 0);
  const heldMg = lots.reduce((sum, lot) => sum + lot.heldMg, 0);
  return { mg, freeMg: Math.max(0, mg - heldMg) };
}

/** "500 g roasted Tue 24 Nov, rested since Wed 25 Nov, best by Thu 24 Dec, 160 g held for T4". */
export function lotLine(shown: ShelfLot, rest: RestDays, house: ShelfHouse): string {
  const { lot } = shown;
  const pieces = [
    `${formatWeight(lot.mg, house.unitSystem)} roasted ${formatShortDay(lot.roastedOn)}`,
    restWords(lot, rest, house.today),
  ];
  if (lot.bestBy !== null) pieces.push(`best by ${formatShortDay(lot.bestBy)}`);
  if (shown.heldMg > 0) {
    pieces.push(`${formatWeight(shown.heldMg, house.unitSystem)} held for ${shown.heldFor.join(', ')}`);
  }
  return pieces.join(', ');
}

/** How rested a lot is on a day. */
function restWords(lot: Lot, rest: RestDays, today: LocalDay): string {
  const state = restState(lot, rest, today);
  if (state === 'resting') return `resting until ${formatShortDay(restedOn(lot, rest))}`;
  const until = formatShortDay(goodUntil(lot, rest));
  return state === 'good' ? `rested, good until ${until}` : `past its rest since ${until}`;
}

/** The best state among the lots of one coffee, for a list. */
export function shelfState(shown: ShelfCoffee, today: LocalDay): string {
  const states = shown.lots.map((held) => restState(held.lot, shown.rest, today));
  if (states.includes('good')) return 'rested';
  const resting = shown.lots.find((_, index) => states[index] === 'resting');
  return resting
    ? `resting until ${formatShortDay(restedOn(resting.lot, shown.rest))}`
    : 'past its longest rest';
}

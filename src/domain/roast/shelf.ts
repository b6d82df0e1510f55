import type { RestDays } from '../house/rest-window.js';
import type { Lot } from '../record/coffee.js';
import { daysAfter, type LocalDay } from '../when/local-day.js';

/** Whether a lot may come to a table on a day: still resting, good, or past its longest rest or best-by. */
export type RestState = 'resting' | 'good' | 'past';

/** What a tasting wants of one coffee. Claims are served in the order of `bookedAt`, then of tasting. */
export type Claim = {
  readonly tastingId: number;
  readonly bookedAt: Date;
  readonly coffeeId: number;
  readonly mg: number;
  /** Day of the tasting in the house's time zone. */
  readonly tableDay: LocalDay;
  readonly rest: RestDays;
};

/** Grams of one lot set aside for a tasting. */
export type Reserved = { readonly tastingId: number; readonly lotId: number; readonly mg: number };
/** Grams that no lot can give to a tasting. */
type Short = { readonly tastingId: number; readonly coffeeId: number; readonly mg: number };

/** Who gets what from the shelf, and who goes short. */
export type ShelfPlan = { readonly reserved: readonly Reserved[]; readonly short: readonly Short[] };

/** The first day on which a lot is rested. */
export function restedOn(lot: Pick<Lot, 'roastedOn'>, rest: RestDays): LocalDay {
  return daysAfter(lot.roastedOn, rest.minDays);
}

/** The last day on which a lot may come to a table: its longest rest or its best-by, whichever is sooner. */
export function goodUntil(lot: Pick<Lot, 'roastedOn' | 'bestBy'>, rest: RestDays): LocalDay {
  const last = daysAfter(lot.roastedOn, rest.maxDays);
  return lot.bestBy !== null && lot.bestBy < last ? lot.bestBy : last;
}

/** The state of a lot on a day. */
export function restState(lot: Pick<Lot, 'roastedOn' | 'bestBy'>, rest: RestDays, day: LocalDay): RestState {
  if (day > goodUntil(lot, rest)) return 'past';
  return day < restedOn(lot, rest) ? 'resting' : 'good';
}

/**
 * Shares the shelf out: first booked, first served, oldest good lot first. Reservations never exceed a lot;
 * what cannot be served is returned as short. The same claims always give the same plan, so moving a
 * tasting twice is the same as moving it once.
 */
export function planShelf(lots: readonly Lot[], claims: readonly Claim[]): ShelfPlan {
  const left = new Map(lots.map((lot) => [lot.id, Math.max(0, lot.mg)]));
  const reserved: Reserved[] = [];
  const short: Short[] = [];
  for (const claim of inOrder(claims)) {
    let wanted = claim.mg;
    for (const lot of usableLots(lots, claim)) {
      const mg = Math.min(wanted, left.get(lot.id) ?? 0);
      if (mg <= 0) continue;
      reserved.push({ tastingId: claim.tastingId, lotId: lot.id, mg });
      left.set(lot.id, (left.get(lot.id) ?? 0) - mg);
      wanted -= mg;
    }
    if (wanted > 0) short.push({ tastingId: claim.tastingId, coffeeId: claim.coffeeId, mg: wanted });
  }
  return { reserved, short };
}

function inOrder(claims: readonly Claim[]): readonly Claim[] {
  return [...claims].sort(
    (a, b) =>
      a.bookedAt.getTime() - b.bookedAt.getTime() || a.tastingId - b.tastingId || a.coffeeId - b.coffeeId,
  );
}

function usableLots(lots: readonly Lot[], claim: Claim): readonly Lot[] {
  return lots
    .filter((lot) => lot.coffeeId === claim.coffeeId && restState(lot, claim.rest, claim.tableDay) === 'good')
    .sort((a, b) => (a.roastedOn < b.roastedOn ? -1 : a.roastedOn > b.roastedOn ? 1 : a.id - b.id));
}

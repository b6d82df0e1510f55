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
type Reserved = { readonly tastingId: number; readonly lotId: number; readonly mg: number };
/** Grams that no lot can give to a tasting. */
type Short = { readonly tastingId: number; readonly coffeeId: number; readonly mg: number };

/** Who gets what from the shelf, and who goes short. */
export type ShelfPlan = { readonly reserved: readonly Reserved[]; readonly short: readonly Short[] };

/** Milligrams of a lot that none of these holds. */
export function freeOf(
  lot: Pick<Lot, 'id' | 'mg'>,
  held: readonly { readonly lotId: number; readonly mg: number }[],
): number {
  const taken = held.filter((row) => row.lotId === lot.id).reduce((sum, row) => sum + row.mg, 0);
  return Math.max(0, lot.mg - taken);
}

/** The first day on which a lot is rested. */
export function restedOn(lot: Pick<Lot, 'roastedOn'>, rest: RestDays): LocalDay {
  return daysAfter(lot.roastedOn, rest.minDays);
}

/** The last day on which a lot may come to a table: its longest rest or its best-by, whichever is sooner. */
export function goodUntil(lot: Pick<Lot, 'roastedOn' | 'bestBy'>, rest: RestDays): LocalDay {
  const last = daysAfter(lot.roastedOn, rest.maxDays);
  return lot.bestBy !== null && lot.bestBy < last ? lot.bestBy : last;
}

/** Whether coffee roasted on a day comes to the table rested and not too old. */
export function servesTable(roastDay: LocalDay, rest: RestDays, tableDay: LocalDay): boolean {
  return restState({ roastedOn: roastDay, bestBy: null }, rest, tableDay) === 'good';
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

/** A claim with the host behind it: what a host asked for without a table is kept for that host's tables. */
export type HostClaim = Claim & { readonly host: string };

/** For whom a lot was roasted: milligrams per tasting, and per person who asked without a tasting. */
export type RoastedFor = {
  readonly tables: ReadonlyMap<number, number>;
  readonly people: ReadonlyMap<string, number>;
};

type Desk = {
  readonly left: Map<number, number>;
  readonly open: Map<string, number>;
  readonly reserved: Map<string, Reserved>;
};

/**
 * Shares the shelf out. A lot that was asked for serves the tables it was roasted for first, keeps what
 * somebody asked for without a table for that person's tables, and only then joins the common shelf, where
 * the first booked is the first served.
 */
export function allotShelf(
  lots: readonly Lot[],
  claims: readonly HostClaim[],
  roastedFor: ReadonlyMap<number, RoastedFor>,
): ShelfPlan {
  const desk: Desk = {
    left: new Map(lots.map((lot) => [lot.id, lot.mg])),
    open: new Map(claims.map((claim) => [keyOf(claim), claim.mg])),
    reserved: new Map(),
  };
  const kept = new Map<number, number>();
  for (const lot of lots) {
    const source = roastedFor.get(lot.id);
    if (source) serve(desk, [lot], claims, (claim) => source.tables.get(claim.tastingId) ?? 0);
  }
  for (const lot of lots) {
    for (const [person, mg] of roastedFor.get(lot.id)?.people ?? []) {
      const before = desk.left.get(lot.id) ?? 0;
      const own = claims.filter((claim) => claim.host === person);
      const free = before - (kept.get(lot.id) ?? 0);
      serve(desk, [{ ...lot, mg: Math.min(mg, free) }], own, () => mg);
      const used = before - (desk.left.get(lot.id) ?? 0);
      kept.set(lot.id, (kept.get(lot.id) ?? 0) + Math.max(0, mg - used));
    }
  }
  const common = lots.map((lot) => ({ ...lot, mg: (desk.left.get(lot.id) ?? 0) - (kept.get(lot.id) ?? 0) }));
  serve(desk, common, claims, () => Number.POSITIVE_INFINITY);
  const short = claims.flatMap((claim) => {
    const mg = desk.open.get(keyOf(claim)) ?? 0;
    return mg > 0 ? [{ tastingId: claim.tastingId, coffeeId: claim.coffeeId, mg }] : [];
  });
  return { reserved: [...desk.reserved.values()], short };
}

/** Serves what is still open, up to `limit` per claim, from what is left of these lots. */
function serve(
  desk: Desk,
  lots: readonly Lot[],
  claims: readonly HostClaim[],
  limit: (claim: HostClaim) => number,
): void {
  const offered = lots.map((lot) => ({ ...lot, mg: Math.min(lot.mg, desk.left.get(lot.id) ?? 0) }));
  const wanting = claims.map((claim) => ({
    ...claim,
    mg: Math.min(limit(claim), desk.open.get(keyOf(claim)) ?? 0),
  }));
  const coffeeOf = new Map(lots.map((lot) => [lot.id, lot.coffeeId]));
  for (const taken of planShelf(offered, wanting).reserved) {
    const claim = { tastingId: taken.tastingId, coffeeId: coffeeOf.get(taken.lotId) ?? 0 };
    desk.left.set(taken.lotId, (desk.left.get(taken.lotId) ?? 0) - taken.mg);
    desk.open.set(keyOf(claim), (desk.open.get(keyOf(claim)) ?? 0) - taken.mg);
    const key = `${taken.tastingId} ${taken.lotId}`;
    desk.reserved.set(key, { ...taken, mg: taken.mg + (desk.reserved.get(key)?.mg ?? 0) });
  }
}

function keyOf(claim: Pick<Claim, 'tastingId' | 'coffeeId'>): string {
  return `${claim.tastingId} ${claim.coffeeId}`;
}

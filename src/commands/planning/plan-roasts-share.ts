import type { Lot } from '../../domain/record/coffee.js';
import { type Claim, planShelf, type Reserved, type ShelfPlan } from '../../domain/roast/shelf.js';

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
export function shareShelf(
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

import type { HouseFacts } from '../house/house-facts.js';
import type { RestDays } from '../house/rest-window.js';
import { type Ask, type AskDetail, wantedBy, wantedMg } from '../record/ask.js';
import type { LocalDay } from '../when/local-day.js';
import { type AskCharge, askCharge } from './charge.js';
import type { DrumLosses } from './loss.js';
import { type AskChange, changeAsk, newAsk } from './roast-ask.js';
import type { RoastDay } from './roast-day.js';
import { servesTable } from './shelf.js';

/**
 * One change of an ask, or a new one (`before` is null, its id below nothing until it is stored). Later ones may
 * follow on earlier ones.
 */
export type AskStep = {
  readonly before: Ask | null;
  readonly after: Ask;
  /** One entry of history each; the last one carries the change of state. */
  readonly said: readonly AskDetail[];
};

/** The plan while it is made: the asks as they would be by now, and the steps that led there. */
export type Draft = {
  readonly house: HouseFacts;
  readonly losses: ReadonlyMap<number, DrumLosses>;
  readonly asks: Map<number, Ask>;
  readonly steps: AskStep[];
};

/** One coffee that one table lacks, and all that decides where the roast for it goes. */
export type Wish = {
  readonly tastingId: number;
  readonly coffeeId: number;
  readonly host: string;
  readonly roaster: string;
  readonly tableDay: LocalDay;
  readonly rest: RestDays;
  readonly shortMg: number;
  readonly day: RoastDay | null;
  readonly refused: ReadonlySet<LocalDay>;
};

/** Where the grams come from: shares of asks that exist, and a new one for the rest. */
type Placement = {
  readonly shares: ReadonlyMap<number, number>;
  readonly fresh: { readonly day: RoastDay; readonly mg: number } | null;
};

/** Makes one change of an ask as the rules of the trade allow it. */
function changeInDraft(draft: Draft, ask: Ask, change: AskChange, ...said: readonly AskDetail[]): Ask {
  const next = changeAsk(ask, change);
  if (!next.ok) throw new Error(`ask ${ask.id} cannot follow the plan: ${next.message}`);
  if (!next.changed) return ask;
  draft.asks.set(ask.id, next.ask);
  draft.steps.push({ before: ask, after: next.ask, said });
  return next.ask;
}

function chargeIn(draft: Draft, coffeeId: number): (mg: number) => AskCharge {
  return (mg) => askCharge(mg, draft.losses.get(coffeeId) ?? new Map(), draft.house);
}

/** Takes one table off an ask. */
export function leave(draft: Draft, ask: Ask, tastingId: number): void {
  const wanted = ask.wanted.filter((entry) => entry.tastingId !== tastingId);
  const change = { kind: 'wishes', wanted, free: ask.free, charge: chargeIn(draft, ask.coffeeId) } as const;
  changeInDraft(draft, ask, change, { what: 'freed', tasting: tastingId, day: ask.roastDay });
}

/** Does a roast on this ask's day (or on the day on offer) come to the table rested and not too old? */
function serves(ask: Ask, { rest, tableDay }: Wish): boolean {
  const days = ask.state === 'offered' ? [ask.offeredDay ?? ask.roastDay, ask.roastDay] : [ask.roastDay];
  return days.some((day) => servesTable(day, rest, tableDay));
}

/**
 * What would be over in the charge of an ask if this table were not on it. What the host asked for without a
 * table counts as over.
 */
function spareFor(draft: Draft, ask: Ask, wish: Wish, othersMg: number): number {
  const free = ask.free.find((entry) => entry.person === wish.host)?.mg ?? 0;
  if (ask.state === 'accepted') return ask.roastedMg - wantedMg(ask) + free;
  return othersMg === 0 ? 0 : chargeIn(draft, ask.coffeeId)(othersMg).overMg + free;
}

/**
 * Decides from state alone, so that moving a table twice ends where moving it once does. What a roaster has
 * accepted or answered with another day is left alone while it serves; then grams over in a charge that is
 * on the plan anyway; then the charge of the chosen day, joined; then a new ask on that day.
 */
function place(draft: Draft, wish: Wish, live: readonly Ask[]): Placement {
  const { tastingId, day } = wish;
  const shares = new Map<number, number>();
  let short = wish.shortMg;
  const serving = live.filter((ask) => serves(ask, wish));
  for (const ask of serving) {
    const own = wantedBy(ask, tastingId);
    if (ask.state === 'asked' || own === 0 || short <= 0) continue;
    const mg = Math.min(short, own);
    shares.set(ask.id, mg);
    short -= mg;
  }
  if (short <= 0) return { shares, fresh: null };
  // A day that was refused is not asked for again by itself, not even beside another table that asks for it.
  const others = serving
    .filter((ask) => ask.state !== 'asked' || !wish.refused.has(ask.roastDay) || wantedBy(ask, tastingId) > 0)
    .map((ask) => ({ ask, othersMg: wantedMg(ask) - wantedBy(ask, tastingId) }))
    .filter(({ ask, othersMg }) => ask.state !== 'offered' && (othersMg > 0 || ask.state === 'accepted'));
  const free = others
    .filter(({ ask, othersMg }) => spareFor(draft, ask, wish, othersMg) >= short)
    .sort((a, b) => (a.ask.roastDay < b.ask.roastDay ? 1 : -1));
  const joinable = others.filter(({ ask }) => ask.roastDay === day?.day && ask.roaster === wish.roaster);
  const target = (free[0] ?? joinable[0])?.ask;
  if (target) return { shares: shares.set(target.id, (shares.get(target.id) ?? 0) + short), fresh: null };
  const mine = serving.find(
    (ask) => ask.state === 'asked' && wantedBy(ask, tastingId) > 0 && ask.roaster === wish.roaster,
  );
  if (day && (!wish.refused.has(day.day) || mine?.roastDay === day.day))
    return { shares, fresh: { day, mg: short } };
  return { shares: mine ? shares.set(mine.id, short) : shares, fresh: null };
}

/**
 * Places what one table lacks of a coffee: changes its live asks (`live`, the earliest roast day first) and
 * adds a new one where it must.
 */
export function placeRoast(draft: Draft, wish: Wish, live: readonly Ask[]): void {
  const { shares, fresh } = place(draft, wish, live);
  const leaving = live.filter((ask) => wantedBy(ask, wish.tastingId) > 0 && !shares.has(ask.id));
  const isOwnAlone = (ask: Ask) =>
    ask.state === 'asked' && ask.roaster === wish.roaster && ask.free.length === 0 && ask.wanted.length === 1;
  const reused = fresh ? leaving.find(isOwnAlone) : undefined;
  for (const ask of leaving) if (ask !== reused) leave(draft, ask, wish.tastingId);
  for (const ask of live) {
    const mg = shares.get(ask.id);
    if (mg !== undefined) setShare(draft, ask, wish, mg);
  }
  if (!fresh) return;
  const { day, mg } = fresh;
  if (!reused) {
    askAnew(draft, wish, day, mg);
    return;
  }
  if (reused.roastDay === day.day && wantedBy(reused, wish.tastingId) === mg) return;
  const change = { ...day, kind: 'replan' } as const;
  const said = { what: 'replan', day: day.day, tasting: wish.tastingId };
  const moved = changeInDraft(draft, reused, change, said);
  setShare(draft, moved, wish, mg);
}

/** Sets this table's share; what is more than before comes first from what its host asked for without a table. */
function setShare(draft: Draft, ask: Ask, wish: Wish, mg: number): void {
  const tasting = wish.tastingId;
  const before = wantedBy(ask, tasting);
  if (before === mg) return;
  const own = ask.free.find((entry) => entry.person === wish.host)?.mg ?? 0;
  const fromFree = Math.min(own, Math.max(0, mg - before));
  const left = { person: wish.host, mg: own - fromFree };
  const wanted = [...ask.wanted.filter((entry) => entry.tastingId !== tasting), { tastingId: tasting, mg }];
  const free = ask.free.map((entry) => (entry.person === wish.host ? left : entry));
  const change: AskChange = {
    kind: 'wishes',
    wanted: wanted.sort((a, b) => a.tastingId - b.tastingId),
    free: free.filter((entry) => entry.mg > 0),
    charge: chargeIn(draft, wish.coffeeId),
  };
  const what = before === 0 ? 'joined' : 'grams';
  const given = fromFree > 0 ? [{ what: 'free grams', free: left, tasting }] : [];
  changeInDraft(draft, ask, change, ...given, { what, tasting, day: ask.roastDay });
}

function askAnew(draft: Draft, wish: Wish, day: RoastDay, mg: number): void {
  const wanted = [{ tastingId: wish.tastingId, mg }];
  const id = -1 - draft.steps.length;
  const after = newAsk({ ...wish, ...day, id, wanted }, chargeIn(draft, wish.coffeeId)(mg));
  draft.asks.set(id, after);
  const said = [{ what: 'asked', tasting: wish.tastingId, day: day.day }];
  draft.steps.push({ before: null, after, said });
}

import type { RestDays } from '../../domain/house/rest-window.js';
import type { ChosenRoastDay, RoastDay } from '../../domain/roast/roast-day.js';
import { restState } from '../../domain/roast/shelf.js';
import type { LocalDay } from '../../domain/when/local-day.js';
import type { StoredAsk } from '../../store/asks.js';

/** One coffee that one table lacks, and all that decides where the roast for it goes. */
export type Wish = {
  readonly tastingId: number;
  readonly host: string;
  readonly roaster: string;
  readonly tableDay: LocalDay;
  readonly rest: RestDays;
  readonly shortMg: number;
  readonly chosen: ChosenRoastDay;
  /** Days on which the roaster declined, or the host gave the roast up. */
  readonly refused: ReadonlySet<LocalDay>;
};

/** A live ask for the coffee as it would be without this table: what is over in its charge. */
export type Candidate = { readonly ask: StoredAsk; readonly spareMg: number; readonly othersMg: number };

/** Where the grams come from: shares of asks that exist, and a new one for the rest. */
export type Placement = {
  readonly shares: ReadonlyMap<number, number>;
  readonly fresh: { readonly day: RoastDay; readonly mg: number } | null;
  readonly placed: boolean;
};

/** Does a roast on this ask's day (or on the day on offer) come to the table rested and not too old? */
function serves(ask: StoredAsk, wish: Pick<Wish, 'rest' | 'tableDay'>): boolean {
  const days = ask.state === 'offered' ? [ask.offeredDay ?? ask.roastDay, ask.roastDay] : [ask.roastDay];
  return days.some((day) => restState({ roastedOn: day, bestBy: null }, wish.rest, wish.tableDay) === 'good');
}

/**
 * Decides from state alone, so that moving a table twice ends where moving it once does. What a roaster has
 * accepted or answered with another day is left alone while it serves; then grams over in a charge that is
 * on the plan anyway; then the charge of the chosen day, joined; then a new ask on that day.
 */
export function place(wish: Wish, candidates: readonly Candidate[]): Placement {
  const shares = new Map<number, number>();
  let short = wish.shortMg;
  const own = (ask: StoredAsk) => ask.wanted.find((entry) => entry.tastingId === wish.tastingId)?.mg ?? 0;
  const serving = candidates.filter(({ ask }) => serves(ask, wish));
  for (const { ask } of serving) {
    if (ask.state === 'asked' || own(ask) === 0 || short <= 0) continue;
    const mg = Math.min(short, own(ask));
    shares.set(ask.id, mg);
    short -= mg;
  }
  if (short <= 0) return { shares, fresh: null, placed: true };
  const day = wish.chosen.ok ? wish.chosen.roastDay : null;
  const others = serving.filter(
    ({ ask, othersMg }) => ask.state !== 'offered' && (othersMg > 0 || ask.state === 'accepted'),
  );
  const free = others
    .filter(({ spareMg }) => spareMg >= short)
    .sort((a, b) => (a.ask.roastDay < b.ask.roastDay ? 1 : -1));
  const joinable = others.filter(({ ask }) => ask.roastDay === day?.day && ask.roaster === wish.roaster);
  const target = free[0] ?? joinable[0];
  if (target) {
    shares.set(target.ask.id, (shares.get(target.ask.id) ?? 0) + short);
    return { shares, fresh: null, placed: true };
  }
  const mine = serving.find(
    ({ ask }) => ask.state === 'asked' && own(ask) > 0 && ask.roaster === wish.roaster,
  );
  if (day && (!wish.refused.has(day.day) || mine?.ask.roastDay === day.day)) {
    return { shares, fresh: { day, mg: short }, placed: true };
  }
  if (!mine) return { shares, fresh: null, placed: false };
  shares.set(mine.ask.id, short);
  return { shares, fresh: null, placed: true };
}

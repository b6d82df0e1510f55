import type { RestDays } from '../house/rest-window.js';
import { counted } from '../measure/plain-list.js';
import { formatGrams } from '../measure/weight.js';
import type { Ask, AskState } from '../record/ask.js';
import { coffeeName } from '../record/table-setting.js';
import { daysBetween, formatShortDay, type LocalDay } from '../when/local-day.js';
import type { CoffeeNeed, TableNeed } from './coffee-needs.js';

/** The roast ask that is to bring a coffee to the table. */
type AskForCoffee = {
  readonly state: AskState;
  readonly roastDay: LocalDay;
  readonly offeredDay: LocalDay | null;
  readonly roaster: string;
};

/** Where one coffee of a tasting stands. */
export type CoffeeStanding = {
  readonly name: string;
  readonly needMg: number;
  /** Reserved on the shelf, good on the day. */
  readonly reservedMg: number;
  readonly ask: AskForCoffee | null;
  readonly rest: RestDays;
};

/** What is true of one coffee: `there` on the shelf, `coming` by an accepted ask, or `missing`. */
type SaidCoffee = {
  readonly name: string;
  readonly state: 'there' | 'coming' | 'missing';
  /** One short sentence, with the person asked left to the notice. */
  readonly said: string;
  readonly missingMg: number;
};

/** Whether every coffee of a tasting will be there, roasted and rested. */
export type Readiness = { readonly ready: boolean; readonly coffees: readonly SaidCoffee[] };

/**
 * Whether a table is ready: every coffee reserved with enough grams, or its ask roasted and rested by the
 * day of the table.
 */
export function readiness(tableDay: LocalDay, standings: readonly CoffeeStanding[]): Readiness {
  const coffees = standings.map((standing) => saidCoffee(tableDay, standing));
  return { ready: coffees.every((coffee) => coffee.state === 'there'), coffees };
}

function saidCoffee(tableDay: LocalDay, standing: CoffeeStanding): SaidCoffee {
  const { name, needMg, reservedMg, ask, rest } = standing;
  const missingMg = Math.max(0, needMg - reservedMg);
  if (missingMg === 0)
    return { name, state: 'there', said: `${name}: ${formatGrams(needMg)} set aside.`, missingMg };
  const lacks =
    reservedMg > 0 ? `${formatGrams(missingMg)} of ${formatGrams(needMg)}` : formatGrams(missingMg);
  if (ask?.state === 'accepted') {
    return {
      name,
      state: 'coming',
      said: `${name}: to be roasted ${formatShortDay(ask.roastDay)}.`,
      missingMg,
    };
  }
  if (ask?.state === 'roasted') {
    const rested = daysBetween(ask.roastDay, tableDay);
    if (rested >= rest.minDays && rested <= rest.maxDays) {
      return {
        name,
        state: 'missing',
        said: `${name}: roasted ${formatShortDay(ask.roastDay)}, but ${lacks} is still missing.`,
        missingMg,
      };
    }
    const said = `${name}: roasted ${formatShortDay(ask.roastDay)}, ${counted(rested, 'day')} before the table; it wants ${rest.minDays} to ${rest.maxDays}.`;
    return { name, state: 'missing', said, missingMg };
  }
  return { name, state: 'missing', said: `${name}: ${lacks} to roast${askWords(ask)}.`, missingMg };
}

function askWords(ask: AskForCoffee | null): string {
  if (ask === null) return '; nobody is asked yet';
  const words = new Map<AskState, string>([
    ['asked', `; asked for ${formatShortDay(ask.roastDay)}, no answer yet`],
    ['offered', `; the roaster offers ${formatShortDay(ask.offeredDay ?? ask.roastDay)}`],
    ['declined', '; the roaster declined'],
    ['missed', `; the roast of ${formatShortDay(ask.roastDay)} did not happen`],
    ['withdrawn', '; the ask was withdrawn'],
  ]);
  return words.get(ask.state) ?? '';
}

/** Where one coffee of a table stands, and what is needed of it. Weights in milligrams. */
export type CoffeeReadiness = {
  readonly coffeeId: number;
  readonly name: string;
  readonly state: 'on the shelf' | AskState | 'missing';
  readonly neededMg: number;
  readonly onShelfMg: number;
  readonly missingMg: number;
  readonly ask: Ask | null;
  /** One short sentence in plain words; who is asked is `ask.roaster`. */
  readonly said: string;
};

/** The least certain first: what a host has to know of a coffee that two asks bring. */
const LEAST_CERTAIN: readonly AskState[] = ['offered', 'asked', 'accepted'];

/**
 * Where every coffee of a table stands.
 *
 * @param held milligrams that the table holds on the shelf, by coffee
 * @param asks those the table stands behind, in any state, the oldest first
 */
export function coffeesAtTable(
  table: TableNeed,
  held: ReadonlyMap<number, number>,
  asks: readonly Ask[],
): readonly CoffeeReadiness[] {
  return table.needs.map((need) =>
    coffeeAtTable(
      table,
      need,
      held.get(need.coffeeId) ?? 0,
      asks.filter((ask) => ask.coffeeId === need.coffeeId),
    ),
  );
}

/**
 * Is there enough? All that the house keeps ready but its spare grams, or, once a roast was made for this
 * table, what the cups themselves take: nobody heats a drum for a few spare grams.
 */
export function isEnough(need: CoffeeNeed, heldMg: number, spareMg: number, asks: readonly Ask[]): boolean {
  if (heldMg >= need.totalMg - spareMg && heldMg > 0) return true;
  return heldMg >= need.tableMg + need.purgeMg && asks.some((ask) => ask.state === 'roasted');
}

function coffeeAtTable(
  table: TableNeed,
  need: CoffeeNeed,
  heldMg: number,
  asks: readonly Ask[],
): CoffeeReadiness {
  const there = isEnough(need, heldMg, table.spareMg, asks);
  const live = LEAST_CERTAIN.flatMap((state) => asks.filter((ask) => ask.state === state));
  const ask = there ? null : (live[0] ?? asks.at(-1) ?? null);
  const rest = table.rests.get(need.coffeeId) ?? { minDays: 0, maxDays: 0 };
  const name = coffeeName(table.setting.coffees, need.coffeeId);
  const needMg = there ? Math.min(need.totalMg, heldMg) : need.totalMg;
  const { coffees } = readiness(table.tableDay, [{ name, needMg, reservedMg: heldMg, ask, rest }]);
  return {
    coffeeId: need.coffeeId,
    name,
    state: there ? 'on the shelf' : (ask?.state ?? 'missing'),
    neededMg: need.totalMg,
    onShelfMg: heldMg,
    missingMg: there ? 0 : need.totalMg - heldMg,
    ask,
    said: coffees[0]?.said ?? name,
  };
}

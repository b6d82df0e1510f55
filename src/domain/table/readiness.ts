import type { RestDays } from '../house/rest-window.js';
import { counted } from '../measure/plain-list.js';
import { formatGrams } from '../measure/weight.js';
import type { AskState } from '../record/ask.js';
import { daysBetween, formatShortDay, type LocalDay } from '../when/local-day.js';

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
type CoffeeReadiness = {
  readonly name: string;
  readonly state: 'there' | 'coming' | 'missing';
  /** One short sentence, with the person asked left to the notice. */
  readonly said: string;
  readonly missingMg: number;
};

/** Whether every coffee of a tasting will be there, roasted and rested. */
export type Readiness = { readonly ready: boolean; readonly coffees: readonly CoffeeReadiness[] };

/**
 * Whether a table is ready: every coffee reserved with enough grams, or its ask roasted and rested by the
 * day of the table.
 */
export function readiness(tableDay: LocalDay, standings: readonly CoffeeStanding[]): Readiness {
  const coffees = standings.map((standing) => coffeeReadiness(tableDay, standing));
  return { ready: coffees.every((coffee) => coffee.state === 'there'), coffees };
}

function coffeeReadiness(tableDay: LocalDay, standing: CoffeeStanding): CoffeeReadiness {
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

import { formatTime } from '../when/format-when.js';
import type { TableFormat } from './format.js';

/** One moment of the table on the clock. */
export type Moment = { readonly at: Date; readonly clock: string; readonly what: string };

type Step = { readonly minutes: number; readonly what: string };

/** SCA(A) cupping standards: 93 °C, grounds at most 15 minutes old; 4 minutes to the crust: cupping guides. */
function cuppingSteps(vessels: number): readonly Step[] {
  // Pouring a bowl takes about ten seconds (common practice); the last bowl sets the end of each round.
  const pouring = Math.ceil((vessels * 10) / 60);
  return [
    { minutes: -60, what: 'Weigh every dose whole; put bowls, codes and spoons out.' },
    { minutes: -20, what: 'Kettle on, for 93 °C at the pour.' },
    { minutes: -15, what: 'Grind, not earlier: purge with the sample first, lids on.' },
    { minutes: -5, what: 'Smell the dry grounds.' },
    { minutes: 0, what: 'Pour, steadily, in table order; note the start.' },
    { minutes: 4, what: 'Break the crust in the same order, three strokes; then skim.' },
    { minutes: 10 + pouring, what: 'First pass, once a bowl is under 71 °C: better at 65 °C.' },
    { minutes: 15 + pouring, what: 'Second pass, near 55 °C.' },
    { minutes: 20 + pouring, what: 'Third pass, near 45 °C; then the placing.' },
    { minutes: 45, what: 'Close the table.' },
  ];
}

/** SCAA Golden Cup (2015): 93 ± 3 °C, drip contact 4–6 minutes; servings within ten minutes: common practice. */
function brewedSteps(batches: number): readonly Step[] {
  const brewing = 6 * batches;
  return [
    { minutes: -45 - brewing, what: 'Weigh every dose whole; rinse and warm the flasks.' },
    {
      minutes: -15 - brewing,
      what: 'Brewer on, water at 93 °C; grind the first batch just before it brews.',
    },
    {
      minutes: -10 - brewing,
      what: 'Brew the batches one after another, same grind and water; into closed flasks.',
    },
    { minutes: 0, what: 'Serve all samples within ten minutes, 55–65 °C, same volume.' },
    { minutes: 5, what: 'First pass.' },
    { minutes: 15, what: 'Second pass, cooler; then the placing.' },
    { minutes: 40, what: 'Close the table.' },
  ];
}

/**
 * The table as clock times, counted from the pour (the serving, when brewed).
 *
 * @param vessels bowls to pour on one table, or batches to brew
 */
export function timeline(format: TableFormat, pour: Date, vessels: number, zone: string): readonly Moment[] {
  const steps = format === 'cupping' ? cuppingSteps(vessels) : brewedSteps(vessels);
  return steps.map(({ minutes, what }) => {
    const at = new Date(pour.getTime() + minutes * 60_000);
    return { at, clock: formatTime(at, zone), what };
  });
}

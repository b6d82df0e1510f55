import type { Drum } from '../house/drum.js';
import { formatBp } from '../measure/hundredths.js';
import { daysAfter, formatDay, type LocalDay } from '../when/local-day.js';
import { drumsFor, lossBp, ODD_BP, type RoastRecord, roastsIn, usualLossBp } from './loss.js';

/** A roast may be reported this long after its day. */
const REPORT_DAYS = 60;

/** What somebody says came out of a drum. Weights in milligrams; `greenMg` is null when nobody weighed it. */
export type RoastReport = {
  readonly greenMg: number | null;
  readonly roastedMg: number;
  readonly roastedOn: LocalDay;
  /** Name of the drum, or null when nobody said. */
  readonly drum: string | null;
  /** The person looked at a loss that is not the usual one again, and it is so. */
  readonly sure: boolean;
};

/** What a report is held against: the coffee's (or the group's) earlier roasts and the loss planned without any. */
export type RoastHistory = {
  readonly roasts: readonly RoastRecord[];
  readonly defaultBp: number;
  readonly drums: readonly Drum[];
  readonly today: LocalDay;
};

/** The answer to a report: it counts, it cannot be, or there is something to ask before it counts. */
export type CheckedRoast =
  | { readonly kind: 'counts'; readonly drum: string | null; readonly confirmed: boolean }
  | { readonly kind: 'refused'; readonly field: 'roasted' | 'day'; readonly message: string }
  | {
      readonly kind: 'question';
      /** The drums it can have been, when there are several: to choose from, also when one was chosen before. */
      readonly drums: readonly string[];
      /** One sentence on a loss far from the usual one; null when that is not the question. */
      readonly odd: string | null;
    };

/**
 * Whether a roast can be as it is reported. Mass balance: something comes out, less than went in and never
 * under half of it. Its day lies behind, by 60 days at most. Which drum it was follows from the green when
 * only one takes it. A loss more than 2 points from what this drum usually shows (the median of the batches
 * that count, else the default) is asked about once: it looks like a slip of the scale.
 */
export function checkRoast(report: RoastReport, history: RoastHistory): CheckedRoast {
  const { greenMg, roastedMg, roastedOn } = report;
  const refused = (field: 'roasted' | 'day', message: string) =>
    ({ kind: 'refused', field, message }) as const;
  if (!(roastedMg > 0)) return refused('roasted', 'How much came out? Give the roasted weight, like 350 g.');
  if (greenMg !== null && roastedMg >= greenMg)
    return refused('roasted', 'Roasted coffee weighs less than the green did. Are the two weights swapped?');
  if (greenMg !== null && roastedMg * 2 < greenMg)
    return refused('roasted', 'That is less than half of the green. Please look at both weights again.');
  const dayProblem = roastDayProblem(roastedOn, history.today);
  if (dayProblem !== null) return refused('day', dayProblem);
  return greenMg === null
    ? { kind: 'counts', drum: null, confirmed: false }
    : weighed(report, greenMg, history);
}

/** Why nobody can have roasted on that day, or null. */
export function roastDayProblem(day: LocalDay, today: LocalDay): string | null {
  const earliest = daysAfter(today, -REPORT_DAYS);
  if (day > today) return `${formatDay(day, today)} is still to come.`;
  if (day >= earliest) return null;
  return `The roast day lies between ${formatDay(earliest, today)} and today.`;
}

function weighed(report: RoastReport, greenMg: number, history: RoastHistory): CheckedRoast {
  const fitting = drumsFor(greenMg, history.drums).map((drum) => drum.name);
  const said = history.drums.some((drum) => drum.name === report.drum) ? report.drum : null;
  const drum = said ?? (fitting.length === 1 ? (fitting[0] ?? null) : null);
  const shown = lossBp(greenMg, report.roastedMg);
  const inDrum = roastsIn(history.roasts, drum === null ? fitting : [drum], history.drums);
  const usualBp = usualLossBp(inDrum, history.defaultBp);
  const isOdd = Math.abs(shown - usualBp) > ODD_BP;
  const odd =
    isOdd && !report.sure
      ? `A loss of ${formatBp(shown)} is more than 2 points from the ${formatBp(usualBp)} that is usual${drum === null ? '' : ` in the ${drum}`}. Please look at both weights again.`
      : null;
  const drums = fitting.length > 1 ? fitting : [];
  if (odd !== null || drum === null) return { kind: 'question', odd, drums };
  return { kind: 'counts', drum, confirmed: isOdd };
}

import type { Ask } from '../record/ask.js';
import { daysAfter, localDay } from '../when/local-day.js';
import { clockMinutes, wallTime } from '../when/wall-time.js';
import { cutOff, type RoastCalendar } from './roast-day.js';

/** One moment of an ask's life to come back to; the notices know it by its kind. */
type AskMoment = { readonly kind: string; readonly dueAt: Date };

/** What the moments of a roast ask depend on; `askedAt` is since when it has been in its state. */
type AskToRemind = Pick<Ask, 'state' | 'roastDay'> & { readonly askedAt: Date };

const HOUR_MS = 3_600_000;
const MORNING = 8 * 60;
const AFTERNOON = 15 * 60;
const EVENING = 18 * 60;
/** Nobody is written to later than this, nor before the morning. */
const NIGHT = 19 * 60;
/** Days after the roast day until a roast that nobody reported counts as missed: our choice. */
const GIVE_UP_DAYS = 2;

/**
 * The moments ahead of a roast ask, at hours fit for people. While unanswered: a day after asking and again
 * before the cut-off, and after its day it lapses. Once accepted: the afternoon before, or the same morning for
 * those who accepted too late for that; that evening when no weight is recorded, to the roaster, and next
 * morning to the host, so that no lateness stays silent; then it is given up.
 */
export function askMoments(
  { state, roastDay, askedAt }: AskToRemind,
  house: RoastCalendar,
): readonly AskMoment[] {
  const moment = (kind: string, days: number, minutes: number): AskMoment => ({
    kind: `ask ${kind}`,
    dueAt: wallTime(daysAfter(roastDay, days), minutes, house.timeZone).at,
  });
  const moments: AskMoment[] = [];
  if (state === 'asked') {
    const lastCall = new Date(cutOff(roastDay, house).getTime() - 3 * HOUR_MS);
    const nextDay = new Date(askedAt.getTime() + 24 * HOUR_MS);
    if (nextDay < lastCall)
      moments.push({ kind: 'ask unanswered', dueAt: decentHour(nextDay, house.timeZone) });
    moments.push({ kind: 'ask last call', dueAt: decentHour(lastCall, house.timeZone) });
  }
  if (state === 'asked' || state === 'offered') moments.push(moment('lapsed', 1, MORNING));
  if (state === 'accepted') {
    const dayBefore = moment('day before', -1, AFTERNOON);
    moments.push(
      dayBefore.dueAt > askedAt ? dayBefore : moment('roast today', 0, MORNING),
      moment('not recorded', 0, EVENING),
      moment('late', 1, MORNING),
      moment('given up', GIVE_UP_DAYS, MORNING),
    );
  }
  return moments.filter(({ dueAt }) => dueAt > askedAt);
}

/** Moved into waking hours: nobody is written to in the night. */
function decentHour(at: Date, zone: string): Date {
  const minutes = clockMinutes(at, zone);
  const day = localDay(at, zone);
  if (minutes < MORNING) return wallTime(day, MORNING, zone).at;
  return minutes > NIGHT ? wallTime(daysAfter(day, 1), MORNING, zone).at : at;
}

import type { Tasting } from '../record/tasting.js';
import { daysAfter, localDay } from '../when/local-day.js';
import { wallTime } from '../when/wall-time.js';

type TastingReminderKind = 'tasting-tomorrow' | 'tasting-soon';
export type TastingReminder = { readonly kind: TastingReminderKind; readonly dueAt: Date };

const SOON_MINUTES = 30;
const MORNING = 9 * 60;

/**
 * Reminders for a tasting that is not open yet: to the host at nine on the day before, to the
 * channel half an hour before the start.
 */
export function tastingReminders(
  tasting: Pick<Tasting, 'state' | 'startsAt'>,
  zone: string,
): readonly TastingReminder[] {
  if (tasting.state !== 'booked' && tasting.state !== 'ready') return [];
  const dayBefore = daysAfter(localDay(tasting.startsAt, zone), -1);
  return [
    { kind: 'tasting-tomorrow', dueAt: wallTime(dayBefore, MORNING, zone).at },
    { kind: 'tasting-soon', dueAt: new Date(tasting.startsAt.getTime() - SOON_MINUTES * 60_000) },
  ];
}

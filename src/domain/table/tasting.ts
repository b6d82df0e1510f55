import { hasNotBegun, LIVE_STATES, NOT_BEGUN, type Tasting, type TastingState } from '../record/tasting.js';
import { daysAfter, localDay } from '../when/local-day.js';
import { wallTime } from '../when/wall-time.js';

/** The state after a change; `changed` is false when it was so already (a second tap). */
type StateAfter =
  | { readonly ok: true; readonly state: TastingState; readonly changed: boolean }
  | { readonly ok: false; readonly message: string };

type Rule = { readonly from: readonly TastingState[]; readonly to: TastingState };

const RULES = {
  'make ready': { from: ['booked'], to: 'ready' },
  unready: { from: ['ready'], to: 'booked' },
  open: { from: NOT_BEGUN, to: 'open' },
  close: { from: ['open'], to: 'closed' },
  reopen: { from: ['closed'], to: 'open' },
  decide: { from: ['closed'], to: 'decided' },
  cancel: { from: LIVE_STATES, to: 'cancelled' },
  // A moved tasting is booked anew: its coffees have to be looked at again.
  move: { from: NOT_BEGUN, to: 'booked' },
} as const satisfies Readonly<Record<string, Rule>>;

/** What can be done to a tasting. */
export type TastingChange = keyof typeof RULES;

const WHY_NOT: Readonly<Record<TastingState, string>> = {
  booked: 'This table is booked and not open yet. Open it when the cups are poured.',
  ready: 'This table is ready and not open yet. Open it when the cups are poured.',
  open: 'This table is open. Close it first.',
  closed: 'This table is closed. Reopen it to taste on, or decide it.',
  decided: 'This tasting is decided; its digest stands. Book another to taste again.',
  cancelled: 'This tasting was cancelled. Book it again if it is wanted after all.',
};

/**
 * The state of a tasting after a change, or a kind sentence why not: booked → ready → open → closed →
 * decided; cancelled from any state before decided; closed → open. An unready table may be opened: the host
 * is told what is missing, never blocked.
 */
export function stateAfter(state: TastingState, change: TastingChange): StateAfter {
  const { from, to }: Rule = RULES[change];
  if (from.includes(state)) return { ok: true, state: to, changed: true };
  if (to === state) return { ok: true, state, changed: false };
  return { ok: false, message: WHY_NOT[state] };
}

type TastingReminderKind = 'tasting-tomorrow' | 'tasting-soon';
type TastingReminder = { readonly kind: TastingReminderKind; readonly dueAt: Date };

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
  if (!hasNotBegun(tasting)) return [];
  const dayBefore = daysAfter(localDay(tasting.startsAt, zone), -1);
  return [
    { kind: 'tasting-tomorrow', dueAt: wallTime(dayBefore, MORNING, zone).at },
    { kind: 'tasting-soon', dueAt: new Date(tasting.startsAt.getTime() - SOON_MINUTES * 60_000) },
  ];
}

import type { Level } from '../record/coffee.js';
import type { Role } from '../record/role.js';
import type { TableFormat } from '../record/tasting.js';
import type { RestWindow } from './house-facts.js';

/** What decides which rest window holds for a coffee on a table. */
export type RestSubject = {
  readonly coffeeId: number;
  readonly role: Role;
  readonly level: Level;
  readonly use: TableFormat;
};

/** Days of rest, counted from the roast day on the calendar: at least `minDays`, at most `maxDays`. */
export type RestDays = { readonly minDays: number; readonly maxDays: number };

/** Without any fitting window: from the next day (SCA cupping standards), for two weeks (common practice). */
const PLAIN_REST: RestDays = { minDays: 1, maxDays: 14 };

/** The window that fits most closely: coffee before role, role before level, level before use; of equals the later. */
export function restDaysFor(subject: RestSubject, windows: readonly RestWindow[]): RestDays {
  let best: { readonly closeness: number; readonly window: RestDays } = { closeness: -1, window: PLAIN_REST };
  for (const window of windows) {
    const closeness = closenessOf(window, subject);
    if (closeness !== null && closeness >= best.closeness) best = { closeness, window };
  }
  return { minDays: best.window.minDays, maxDays: best.window.maxDays };
}

function closenessOf(window: RestWindow, subject: RestSubject): number | null {
  const conditions: readonly (readonly [wanted: unknown, is: unknown, weight: number])[] = [
    [window.coffeeId, subject.coffeeId, 8],
    [window.role, subject.role, 4],
    [window.level, subject.level, 2],
    [window.use, subject.use, 1],
  ];
  let closeness = 0;
  for (const [wanted, is, weight] of conditions) {
    if (wanted === null) continue;
    if (wanted !== is) return null;
    closeness += weight;
  }
  return closeness;
}

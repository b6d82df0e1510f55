import { z } from 'zod';
import { LEVELS, type Level, ROLES, type Role } from '../record/coffee.js';
import { TABLE_FORMATS, type TableFormat } from '../record/tasting.js';
import { type Reading, unclear } from './fact.js';

/**
 * How many days after its roast day a coffee may come to the table. The window that fits most closely
 * holds: one for the coffee before one for its role, level and use; null fits everything.
 */
export const RestWindow = z
  .object({
    coffeeId: z.number().int().nullable().default(null),
    role: z.enum(ROLES).nullable().default(null),
    level: z.enum(LEVELS).nullable().default(null),
    use: z.enum(TABLE_FORMATS).nullable().default(null),
    minDays: z.number().int().min(0).max(60),
    maxDays: z.number().int().min(0).max(120),
  })
  .refine(
    (window) => window.minDays <= window.maxDays,
    'The longest rest cannot be shorter than the shortest.',
  );
export type RestWindow = z.output<typeof RestWindow>;

/** Days of rest, counted from the roast day on the calendar: at least `minDays`, at most `maxDays`. */
export type RestDays = { readonly minDays: number; readonly maxDays: number };

/** For cupping, and without any fitting window: from the next day (SCA cupping standards), for two weeks (common practice). */
const PLAIN_REST: RestDays = { minDays: 1, maxDays: 14 };

const ANY = { coffeeId: null, role: null, level: null };

/** The rest windows of a house that has told nothing. */
export const USUAL_WINDOWS: RestWindow[] = [
  { ...ANY, ...PLAIN_REST, use: 'cupping' },
  { ...ANY, use: 'brewed', minDays: 4, maxDays: 14 },
  { ...ANY, level: 'dark', use: 'brewed', minDays: 2, maxDays: 10 },
];

/** Where the default windows come from. */
export function restSource(windows: readonly RestWindow[], practice: string): string {
  const shortest = (level: RestWindow['level'], use: RestWindow['use']) =>
    windows.find((window) => window.level === level && window.use === use)?.minDays ?? 0;
  const next = shortest(null, 'cupping');
  const cupping = next === 1 ? 'the next day' : `${next} days`;
  return `cupping from ${cupping} (SCA cupping standards: 8–24 h), brewed from ${shortest(null, 'brewed')} days, dark from ${shortest('dark', 'brewed')} (roasters’ advice, which differs); longest rest: ${practice}`;
}

/** "cupping 1-14, brewed 4-14, dark brewed 2-10", as one would type it. */
export function exampleWindows(windows: readonly RestWindow[]): string {
  return windows.map((window) => `${scopeOf(window)} ${window.minDays}-${window.maxDays}`).join(', ');
}

/**
 * Reads rest windows: "cupping 1-14, brewed 4-14, dark brewed 2-10, highlight 3-12". What is not named again stays
 * as it was; a window for the same things is replaced.
 */
export function readWindows(words: string, now: readonly RestWindow[], like: string): Reading<RestWindow[]> {
  const windows = words.toLowerCase().split(/[,;]/u).map(readWindow);
  const known = windows.filter((window) => window !== null);
  if (known.length === 0 || known.length < windows.length) return unclear(words, `Say it like ${like}.`);
  if (known.some((window) => window.minDays > window.maxDays))
    return unclear(words, 'The shortest rest comes first.');
  const kept = now.filter((old) => !known.some((window) => sameScope(old, window)));
  return { ok: true, value: [...kept, ...known] };
}

function readWindow(text: string): RestWindow | null {
  const days = /(\d{1,2})\s*(?:-|–|to)\s*(\d{1,3})/u.exec(text);
  if (!days) return null;
  const words = text
    .replace(days[0], '')
    .split(/\s+/u)
    .filter((word) => word !== '' && !/^days?$/u.test(word));
  const pick = <T extends string>(from: readonly T[]) => from.find((value) => words.includes(value)) ?? null;
  const window = {
    coffeeId: null,
    role: pick(ROLES),
    level: pick(LEVELS),
    use: pick(TABLE_FORMATS),
    minDays: Number(days[1]),
    maxDays: Number(days[2]),
  };
  const understood = [window.role, window.level, window.use].filter((value) => value !== null).length;
  return understood === words.length ? window : null;
}

function sameScope(a: RestWindow, b: RestWindow): boolean {
  return CONDITIONS.every((key) => a[key] === b[key]);
}

function scopeOf({ role, level, use }: RestWindow): string {
  return [role, level, use].filter((value) => value !== null).join(' ');
}

/** "dark brewed 2–10 days". */
export function showWindow(window: RestWindow): string {
  const scope = scopeOf(window);
  const coffee = window.coffeeId === null ? '' : `coffee ${window.coffeeId} `;
  return `${coffee}${scope === '' && coffee === '' ? 'all' : scope} ${window.minDays}–${window.maxDays} days`.replace(
    /\s+/gu,
    ' ',
  );
}

/** What decides which rest window holds for a coffee on a table. */
type RestSubject = {
  readonly coffeeId: number;
  readonly role: Role;
  readonly level: Level;
  readonly use: TableFormat;
};

/** The window that fits most closely: coffee before role, role before level, level before use; of equals the later. */
export function restDaysFor(subject: RestSubject, windows: readonly RestWindow[]): RestDays {
  const { minDays, maxDays } = windows
    .filter((window) => CONDITIONS.every((key) => (window[key] ?? subject[key]) === subject[key]))
    .reduce((best, window) => (closeness(window) >= closeness(best) ? window : best), {
      ...ANY,
      ...PLAIN_REST,
      use: null,
    });
  return { minDays, maxDays };
}

/** What a window may be for, what weighs most last. */
const CONDITIONS = ['use', 'level', 'role', 'coffeeId'] as const;

/** Every condition outweighs all those before it together. */
function closeness(window: RestWindow): number {
  return CONDITIONS.reduce((sum, key, at) => sum + (window[key] === null ? 0 : 2 ** at), 0);
}

import { LEVELS } from '../record/coffee.js';
import { ROLES } from '../record/role.js';
import { TABLE_FORMATS } from '../record/tasting.js';
import { changed, type FactEntry, unclear } from './fact-entry.js';
import type { RestWindow } from './house-facts.js';

const EXAMPLE = 'cupping 1-14, brewed 4-14, dark brewed 2-10';

/** Rest windows: "cupping 1-14, brewed 4-14, dark brewed 2-10, highlight 3-12". */
export const REST_FACTS: readonly FactEntry[] = [
  {
    name: 'restWindows',
    label: 'rest',
    alsoCalled: ['rest windows', 'rest days', 'resting'],
    example: EXAMPLE,
    read: (words, house) => {
      const windows = words.toLowerCase().split(/[,;]/u).map(readWindow);
      const known = windows.filter((window) => window !== null);
      if (known.length === 0 || known.length < windows.length)
        return unclear(words, `Say it like ${EXAMPLE}.`);
      if (known.some((window) => window.minDays > window.maxDays))
        return unclear(words, 'The shortest rest comes first.');
      // What is not named again stays as it was; a window for the same things is replaced.
      const kept = house.restWindows.filter((old) => !known.some((window) => sameScope(old, window)));
      return changed({ restWindows: [...kept, ...known] });
    },
    show: (house) => house.restWindows.map(showWindow).join(', '),
  },
];

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
  return a.coffeeId === b.coffeeId && a.role === b.role && a.level === b.level && a.use === b.use;
}

function showWindow(window: RestWindow): string {
  const scope = [window.role, window.level, window.use].filter((value) => value !== null).join(' ');
  const coffee = window.coffeeId === null ? '' : `coffee ${window.coffeeId} `;
  return `${coffee}${scope === '' && coffee === '' ? 'all' : scope} ${window.minDays}–${window.maxDays} days`.replace(
    /\s+/gu,
    ' ',
  );
}

import { type ParsedWeight, parseWeight } from '../../domain/measure/weight.js';
import { daysAfter, formatDay, type LocalDay } from '../../domain/when/local-day.js';
import { readDay } from '../../domain/when/read-day.js';

/** Roasted grams said in words: how much, of which roast day, from how much green. */
type GramsWords = {
  readonly mg: number;
  readonly greenMg: number | null;
  readonly off: boolean;
  readonly roastedOn: LocalDay | null;
};
export type ReadGrams =
  | { readonly ok: true; readonly grams: GramsWords }
  | { readonly ok: false; readonly message: string };

const OFF = new Set(['off', 'take', 'minus', 'used', 'gone', 'less']);
const FILLING = new Set([
  'roasted',
  'roast',
  'on',
  'put',
  'add',
  'the',
  'shelf',
  'of',
  'from',
  'plus',
  'more',
]);

/** Reads `500g roasted tue from 590g green`, `take 200g`, `-200g`; null when no weight is among the words. */
export function readGrams(words: readonly string[], today: LocalDay): ReadGrams | null {
  let off = false;
  let roastedMg: number | null = null;
  let greenMg: number | null = null;
  const left: string[] = [];
  for (let at = 0; at < words.length; ) {
    const word = (words[at] ?? '').toLowerCase();
    const weight = weightAt(words, at);
    if (weight) {
      off ||= word.startsWith('-');
      const green = (words[at + weight.used] ?? '').toLowerCase() === 'green';
      if (green) greenMg = weight.mg;
      else roastedMg = weight.mg;
      at += weight.used + (green ? 1 : 0);
      continue;
    }
    if (OFF.has(word)) off = true;
    else if (!FILLING.has(word)) left.push(word);
    at += 1;
  }
  if (roastedMg === null) return null;
  const day = left.length > 0 ? readRoastDay(left, today) : null;
  if (day && !day.ok) return day;
  return { ok: true, grams: { mg: roastedMg, greenMg, off, roastedOn: day?.day ?? null } };
}

/** A weight typed into a field that asks for grams, where a bare number is grams. */
export function readGramsField(text: string, unitSystem: 'metric' | 'pounds'): ParsedWeight {
  const bare = unitSystem === 'metric' && /^\d+(?:[.,]\d+)?$/u.test(text.trim());
  return parseWeight(bare ? `${text}g` : text);
}

type Day = { readonly ok: true; readonly day: LocalDay } | { readonly ok: false; readonly message: string };

/** A roast day lies behind: "tue" is the latest Tuesday, today included. */
function readRoastDay(words: readonly string[], today: LocalDay): Day {
  const said = words.join(' ');
  if (said === 'yesterday') return { ok: true, day: daysAfter(today, -1) };
  const read = readDay(words, 0, today);
  if (!read || read.used < words.length) {
    return {
      ok: false,
      message: `I could not read “${said}” as a roast day. Say it like roasted tue, roasted yesterday or roasted 24 nov.`,
    };
  }
  if (read.kind === 'impossible') return { ok: false, message: read.message };
  const weekday = words.length === 1 && read.day > today && read.day <= daysAfter(today, 6);
  const day = weekday && /^[a-z]+$/u.test(said) && said !== 'tomorrow' ? daysAfter(read.day, -7) : read.day;
  if (day > today) {
    return {
      ok: false,
      message: `${formatDay(day, today)} is still to come. A roast on the shelf has a day behind it, like roasted tue.`,
    };
  }
  return { ok: true, day };
}

function weightAt(
  words: readonly string[],
  at: number,
): { readonly mg: number; readonly used: number } | null {
  for (let used = Math.min(4, words.length - at); used > 0; used -= 1) {
    const said = words
      .slice(at, at + used)
      .join(' ')
      .replace(/^[-+–]/u, '');
    const parsed = parseWeight(said);
    if (parsed.ok) return { mg: parsed.mg, used };
  }
  return null;
}

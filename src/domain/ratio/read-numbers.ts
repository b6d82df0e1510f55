import { smallestParts } from './parts.js';

/** One number as typed: its whole digits scaled by ten to the power of its decimals. */
export type TypedNumber = { readonly value: number; readonly decimals: number };

const SIMPLE_FRACTION = /^\d{1,3}\/\d{1,3}$/u;

/**
 * The numbers of a ratio typed as a bare list: "50/30/20", "2:1:1", "40% 40% 20%", "50,30,20",
 * "12,5 / 37,5 / 50", "1/2 1/4 1/4". Null when anything else stands among them.
 */
export function readNumbers(text: string, wanted: number): readonly TypedNumber[] | null {
  const bare = text.replace(/[%()[\]]|\b(?:percent|parts?)\b/giu, ' ').trim();
  const words = bare.split(/[\s,;]+/u).filter((word) => word !== '');
  if (words.length === wanted && words.length > 1 && words.every((word) => SIMPLE_FRACTION.test(word))) {
    return overCommonDenominator(words);
  }
  const pieces = splitList(bare);
  const numbers = pieces.map(readNumber);
  return numbers.every((number) => number !== null) && numbers.length > 0 ? numbers : null;
}

/** One number with a decimal point or comma; null when it is none. */
export function readNumber(text: string): TypedNumber | null {
  const match = /^(\d{1,6})(?:[.,](\d{1,3}))?$/u.exec(text.replace(/%$/u, '').trim());
  if (!match) return null;
  const decimals = (match[2] ?? '').replace(/0+$/u, '');
  return { value: Number(`${match[1] ?? ''}.${decimals}`), decimals: decimals.length };
}

function splitList(text: string): readonly string[] {
  // A comma is a decimal comma only where something else separates the numbers.
  const otherSeparators = /\d\s*[/:;+&–-]\s*\d|\d,\d+\s+\d/u.test(text.replace(/,\s+/gu, ' ; '));
  const commaSeparates = !otherSeparators || /,\s/u.test(text);
  const separators = commaSeparates ? /\s*[/:;+&,–-]\s*|\s+/u : /\s*[/:;+&–-]\s*|\s+/u;
  return text.split(separators).filter((piece) => piece !== '' && piece !== 'to' && piece !== 'and');
}

function overCommonDenominator(words: readonly string[]): readonly TypedNumber[] | null {
  const pairs = words.map((word) => word.split('/').map(Number));
  const product = pairs.reduce((all, pair) => all * (pair[1] ?? 0), 1);
  if (product === 0 || product > 1_000_000) return null;
  const whole = pairs.map((pair) => ((pair[0] ?? 0) * product) / (pair[1] ?? 1));
  return smallestParts(whole).map((value) => ({ value, decimals: 0 }));
}

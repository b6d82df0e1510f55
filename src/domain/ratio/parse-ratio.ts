import { counted, plainList } from '../measure/plain-list.js';
import { formatPercentages } from './format-ratio.js';
import { type Parts, smallestParts } from './parts.js';
import { type RatioComponent, readNamedParts } from './read-named-parts.js';
import { readNumbers, type TypedNumber } from './read-numbers.js';

/** A ratio in whole parts with what has to be said about the reading, or a kind refusal. */
export type ParsedRatio =
  | {
      readonly ok: true;
      /** Whole numbers in component order; 0 leaves a coffee out. */
      readonly parts: Parts;
      /** One sentence when it was read as something other than typed, else null. */
      readonly saidSo: string | null;
      /** True when percentages miss 100 by more than 10, so that the reading is worth confirming. */
      readonly worthAsking: boolean;
    }
  | { readonly ok: false; readonly message: string };

const MOST_PARTS = 1_000_000;

/**
 * Reads a ratio as people write it: `50/30/20`, `2:1:1`, `40% 40% 20%`, `12.5/37.5/50`,
 * `peru 50 burundi 30 costa 20`. Parts are shares of the finished, roasted blend by weight.
 */
export function parseRatio(text: string, components: readonly RatioComponent[]): ParsedRatio {
  const said = text.trim();
  if (/(?:^|[\s/:,;])-\s*\d/u.test(said)) return refusal('A part cannot be less than nothing.', components);
  const listed = readNumbers(said, components.length);
  if (listed) {
    if (listed.length !== components.length) {
      const found = `I read ${counted(listed.length, 'number')} in “${said}”, and the blend has ${counted(components.length, 'coffee')}.`;
      return refusal(found, components);
    }
    return inWholeParts(said, listed, components);
  }
  if (!/\d/u.test(said) || !/\p{L}/u.test(said))
    return refusal(`I could not read “${said}” as a ratio.`, components);
  const named = readNamedParts(said, components);
  if (!named.ok) return named;
  return inWholeParts(said, named.numbers, components);
}

function inWholeParts(
  said: string,
  numbers: readonly (TypedNumber | null)[],
  components: readonly RatioComponent[],
): ParsedRatio {
  const decimals = Math.max(...numbers.map((number) => number?.decimals ?? 0));
  const scaled = numbers.map((number) => Math.round((number?.value ?? 0) * 10 ** decimals));
  const parts = decimals > 0 ? smallestParts(scaled) : scaled;
  if (parts.every((part) => part === 0)) return refusal('A ratio needs at least one part.', components);
  if (parts.some((part) => part > MOST_PARTS))
    return refusal('Those parts are too large to weigh.', components);
  const sum = numbers.reduce((total, number) => total + (number?.value ?? 0), 0);
  const asPercentages = said.includes('%') || /percent/iu.test(said);
  const missed = Math.abs(sum - 100) > 0.05 && (asPercentages || looksLikePercentages(sum, scaled));
  const sentences = [missed ? missedHundred(said, sum, parts) : '', leftOut(parts, components)].filter(
    (sentence) => sentence !== '',
  );
  return {
    ok: true,
    parts,
    saidSo: sentences.length > 0 ? sentences.join(' ') : null,
    worthAsking: asPercentages && Math.abs(sum - 100) > 10,
  };
}

/** 30/30/30 or 50/30/25 are meant as percentages; 2:1:1 or 3:2 are not. */
function looksLikePercentages(sum: number, numbers: readonly number[]): boolean {
  return sum >= 75 && sum <= 125 && numbers.every((number) => number === 0 || number >= 5);
}

function missedHundred(said: string, sum: number, parts: Parts): string {
  const kind = new Set(parts).size === 1 ? 'equal parts' : 'parts';
  return `${said} adds up to ${Number(sum.toFixed(3))}, so I read it as ${kind}: ${formatPercentages(parts)}.`;
}

function leftOut(parts: Parts, components: readonly RatioComponent[]): string {
  const names = components.filter((_, index) => parts[index] === 0).map((component) => component.name);
  return names.length > 0 ? `${plainList(names)} ${names.length > 1 ? 'are' : 'is'} left out.` : '';
}

function refusal(problem: string, components: readonly RatioComponent[]): ParsedRatio {
  const example = exampleFor(components.length);
  const names = plainList(components.map((component) => component.name));
  return { ok: false, message: `${problem} Give one number for each of ${names}, like ${example}.` };
}

function exampleFor(count: number): string {
  if (count === 2) return '60/40 or 3:2';
  if (count === 3) return '50/30/20 or 2:1:1';
  return `${Array.from({ length: count }, (_, index) => (index === 0 ? 2 : 1)).join(':')}`;
}

import { foldName } from '../measure/find-named.js';
import { counted, plainList } from '../measure/plain-list.js';
import { formatPercentages, type Parts, smallestParts } from './parts.js';

/** A ratio in whole parts with what has to be said about the reading, or a kind refusal. */
export type ParsedRatio =
  | {
      readonly ok: true;
      /** Whole numbers in component order; 0 leaves a coffee out. */
      readonly parts: Parts;
      /** One sentence when it was read as something other than typed, else null. */
      readonly saidSo: string | null;
    }
  | Refused;

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

type Refused = { readonly ok: false; readonly message: string };

function refused(message: string): Refused {
  return { ok: false, message };
}

function refusal(problem: string, components: readonly RatioComponent[]): Refused {
  const example = exampleFor(components.length);
  const names = plainList(components.map((component) => component.name));
  return refused(`${problem} Give one number for each of ${names}, like ${example}.`);
}

function exampleFor(count: number): string {
  if (count === 2) return '60/40 or 3:2';
  if (count === 3) return '50/30/20 or 2:1:1';
  return `${Array.from({ length: count }, (_, index) => (index === 0 ? 2 : 1)).join(':')}`;
}

/** What a ratio is written for: a component's name, and its origin when people may call it by that. */
export type RatioComponent = { readonly name: string; readonly origin?: string | null };

/** Numbers in component order (null where a coffee was not named), or what could not be read. */
type NamedParts = { readonly ok: true; readonly numbers: readonly (TypedNumber | null)[] } | Refused;

const JOINING_WORDS = new Set(['and', 'of', 'with', 'part', 'parts', 'percent', 'to', 'at', 'is']);

type Piece = { readonly word: string } | { readonly number: TypedNumber };

/** Reads "peru 50 burundi 30 costa 20" or "50 peru, 30 burundi, 20 costa": names, origins or their beginnings. */
function readNamedParts(text: string, components: readonly RatioComponent[]): NamedParts {
  const pieces = namesAndNumbers(text);
  const numbersFirst = pieces[0] !== undefined && 'number' in pieces[0];
  const found = new Map<number, TypedNumber>();
  for (let index = 0; index < pieces.length; index += 2) {
    const [first, second] = [pieces[index], pieces[index + 1]];
    const [name, number] = numbersFirst ? [second, first] : [first, second];
    if (!name || !number || !('word' in name) || !('number' in number)) {
      return refused(`I lost count in “${text.trim()}”. Put one number beside each name.`);
    }
    const at = findComponent(name.word, components);
    if (!at.ok) return at;
    if (found.has(at.index)) {
      return refused(`${components[at.index]?.name ?? name.word} has two numbers. Give each coffee one.`);
    }
    found.set(at.index, number.number);
  }
  return { ok: true, numbers: components.map((_, index) => found.get(index) ?? null) };
}

function namesAndNumbers(text: string): readonly Piece[] {
  const pieces: Piece[] = [];
  const words = text.replace(/(\d)\s*%/gu, '$1 ').replace(/([^\d.,\s])(\d)|(\d)([^\d.,\s])/gu, '$1$3 $2$4');
  for (const raw of words.split(/[\s:;=/+&]+|,(?=\s|$|\D)/u)) {
    const word = (raw ?? '').replace(/^["'“”]+|["'“”,.]+$/gu, '');
    if (word === '' || JOINING_WORDS.has(word.toLowerCase())) continue;
    const number = readNumber(word);
    const last = pieces.at(-1);
    if (number) pieces.push({ number });
    else if (last && 'word' in last) pieces[pieces.length - 1] = { word: `${last.word} ${word}` };
    else pieces.push({ word });
  }
  return pieces;
}

function findComponent(
  said: string,
  components: readonly RatioComponent[],
): { readonly ok: true; readonly index: number } | Refused {
  const wanted = foldName(said);
  const ways = [
    (name: string) => name === wanted,
    (name: string) => name.startsWith(wanted),
    (name: string) => name.split(' ').some((word) => word.startsWith(wanted)),
  ];
  for (const way of ways) {
    const hits = components.flatMap((component, index) =>
      [component.name, component.origin ?? ''].some((name) => name !== '' && way(foldName(name)))
        ? [index]
        : [],
    );
    if (hits.length === 1 && hits[0] !== undefined) return { ok: true, index: hits[0] };
    if (hits.length > 1) {
      const names = hits.map((index) => components[index]?.name ?? '');
      return refused(`“${said}” could be ${plainList(names, 'or')}. Say a little more of the name.`);
    }
  }
  const names = plainList(components.map((component) => component.name));
  return refused(`There is no “${said}” in this blend. Its coffees are ${names}.`);
}

/** One number as typed: its whole digits scaled by ten to the power of its decimals. */
type TypedNumber = { readonly value: number; readonly decimals: number };

const SIMPLE_FRACTION = /^\d{1,3}\/\d{1,3}$/u;

/**
 * The numbers of a ratio typed as a bare list: "50/30/20", "2:1:1", "40% 40% 20%", "50,30,20",
 * "12,5 / 37,5 / 50", "1/2 1/4 1/4". Null when anything else stands among them.
 */
function readNumbers(text: string, wanted: number): readonly TypedNumber[] | null {
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

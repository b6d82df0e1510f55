import { plainList } from '../measure/plain-list.js';
import { readNumber, type TypedNumber } from './read-numbers.js';

/** What a ratio is written for: a component's name, and its origin when people may call it by that. */
export type RatioComponent = { readonly name: string; readonly origin?: string | null };

/** Numbers in component order (null where a coffee was not named), or what could not be read. */
export type NamedParts =
  | { readonly ok: true; readonly numbers: readonly (TypedNumber | null)[] }
  | { readonly ok: false; readonly message: string };

const JOINING_WORDS = new Set(['and', 'of', 'with', 'part', 'parts', 'percent', 'to', 'at', 'is']);

type Piece = { readonly word: string } | { readonly number: TypedNumber };

/** Reads "peru 50 burundi 30 costa 20" or "50 peru, 30 burundi, 20 costa": names, origins or their beginnings. */
export function readNamedParts(text: string, components: readonly RatioComponent[]): NamedParts {
  const pieces = namesAndNumbers(text);
  const numbersFirst = pieces[0] !== undefined && 'number' in pieces[0];
  const found = new Map<number, TypedNumber>();
  for (let index = 0; index < pieces.length; index += 2) {
    const [first, second] = [pieces[index], pieces[index + 1]];
    const [name, number] = numbersFirst ? [second, first] : [first, second];
    if (!name || !number || !('word' in name) || !('number' in number)) {
      return { ok: false, message: `I lost count in “${text.trim()}”. Put one number beside each name.` };
    }
    const at = findComponent(name.word, components);
    if (!at.ok) return at;
    if (found.has(at.index)) {
      return {
        ok: false,
        message: `${components[at.index]?.name ?? name.word} has two numbers. Give each coffee one.`,
      };
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
): { readonly ok: true; readonly index: number } | { readonly ok: false; readonly message: string } {
  const wanted = fold(said);
  const ways = [
    (name: string) => name === wanted,
    (name: string) => name.startsWith(wanted),
    (name: string) => name.split(' ').some((word) => word.startsWith(wanted)),
  ];
  for (const way of ways) {
    const hits = components.flatMap((component, index) =>
      [component.name, component.origin ?? ''].some((name) => name !== '' && way(fold(name))) ? [index] : [],
    );
    if (hits.length === 1 && hits[0] !== undefined) return { ok: true, index: hits[0] };
    if (hits.length > 1) {
      const names = hits.map((index) => components[index]?.name ?? '');
      return {
        ok: false,
        message: `“${said}” could be ${plainList(names, 'or')}. Say a little more of the name.`,
      };
    }
  }
  const names = plainList(components.map((component) => component.name));
  return { ok: false, message: `There is no “${said}” in this blend. Its coffees are ${names}.` };
}

function fold(text: string): string {
  return text.normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase().trim();
}

import { parseRatio, type RatioComponent } from '../../domain/ratio/parse-ratio.js';
import type { TableFormat } from '../../domain/record/tasting.js';
import { findWhen } from '../../domain/when/parse-when.js';
import { mrkdwn } from '../../kit/escape.js';
import { UserError } from '../../runtime/errors.js';
import { splitWords } from '../common/intake.js';

/** What a booking says so far; what is null is asked for in the form. */
export type BookingWords = {
  readonly recipe: string | null;
  readonly at: Date | null;
  readonly whenNote: string | null;
  readonly ratios: readonly string[];
  readonly people: readonly string[];
  readonly blind: boolean;
  readonly format: TableFormat | null;
  readonly tables: number | null;
  readonly brief: string | null;
};

const KEYWORDS = new Set([
  'ratios',
  'ratio',
  'with',
  'blind',
  'brewed',
  'cupping',
  'for',
  'tables',
  'table',
  'at',
  'on',
]);
const PERSON = /^<@([A-Z0-9]+)(?:\|[^>]*)?>,?$/;

/**
 * Reads `"Harbour Lamp" fri 14:00 ratios 50/30/20 2:1:1 with @noor @teo blind`, in any order of its parts.
 *
 * @throws {UserError} when a word fits nothing, or a time is past; what is merely missing is null
 */
export function readBookingWords(
  words: string,
  recipes: readonly string[],
  now: Date,
  zone: string,
): BookingWords {
  const tokens = splitWords(words);
  const named = takeRecipe(tokens, recipes);
  const sections = intoSections(named.rest);
  const free = [...(sections.get('') ?? []), ...(sections.get('at') ?? []), ...(sections.get('on') ?? [])];
  const found = findWhen(free, now, zone);
  if (found && !found.when.ok) throw new UserError(mrkdwn(found.when.message));
  const left = (found?.rest ?? free).filter((token) => !PERSON.test(token));
  if (left.length > 0) throw unknownWords(left, recipes, named.recipe);
  return {
    recipe: named.recipe,
    at: found?.when.ok ? found.when.at : null,
    whenNote: found?.when.ok ? found.when.note : null,
    ratios: readRatioTexts(sections.get('ratios') ?? []),
    people: tokens.flatMap((token) => PERSON.exec(token)?.[1] ?? []),
    blind: sections.has('blind'),
    format: sections.has('brewed') ? 'brewed' : sections.has('cupping') ? 'cupping' : null,
    tables: readCount(sections.get('tables')),
    brief: sections.get('for')?.join(' ') || null,
  };
}

function takeRecipe(
  tokens: readonly string[],
  recipes: readonly string[],
): { readonly recipe: string | null; readonly rest: readonly string[] } {
  for (let length = Math.min(tokens.length, 6); length > 0; length -= 1) {
    const said = tokens.slice(0, length).join(' ').toLowerCase();
    const exact = recipes.find((name) => name.toLowerCase() === said);
    const begun = recipes.filter((name) => name.toLowerCase().startsWith(said));
    const recipe = exact ?? (said.length >= 3 && begun.length === 1 ? begun[0] : undefined);
    if (recipe !== undefined) return { recipe, rest: tokens.slice(length) };
  }
  return { recipe: null, rest: tokens };
}

function intoSections(tokens: readonly string[]): ReadonlyMap<string, readonly string[]> {
  const sections = new Map<string, string[]>([['', []]]);
  let current = '';
  for (const token of tokens) {
    const word = token.toLowerCase();
    if (KEYWORDS.has(word)) {
      const name = word === 'ratio' ? 'ratios' : word === 'table' ? 'tables' : word;
      const standsAlone = name === 'blind' || name === 'brewed' || name === 'cupping';
      sections.set(name, sections.get(name) ?? []);
      current = standsAlone ? '' : name;
    } else if (current === 'with' && !PERSON.test(token) && word !== 'and') sections.get('')?.push(token);
    else sections.get(current)?.push(token);
  }
  return sections;
}

/** "50/30/20 2:1:1" is two ratios; "peru 50 burundi 30 costa 20" is one; commas part them. */
export function readRatioTexts(tokens: readonly string[]): readonly string[] {
  const texts = tokens.join(' ').split(/[,;\n]|\band\b/);
  return texts.flatMap((text) => {
    const words = text.trim().split(/\s+/).filter(Boolean);
    const compact = words.every((word) => /^\d+(?:\.\d+)?%?(?:[:/]\d+(?:\.\d+)?%?)+$/.test(word));
    return compact ? words : words.length > 0 ? [words.join(' ')] : [];
  });
}

/** Ratios in whole parts, with what has to be said about how they were read. */
export function readRatios(
  texts: readonly string[],
  components: readonly RatioComponent[],
): { readonly ratios: readonly (readonly number[])[]; readonly said: readonly string[] } {
  const ratios: (readonly number[])[] = [];
  const said: string[] = [];
  for (const text of texts) {
    const parsed = parseRatio(text, components);
    if (!parsed.ok) throw new UserError(mrkdwn(parsed.message), null, 'ratios');
    ratios.push(parsed.parts);
    if (parsed.saidSo) said.push(parsed.saidSo);
  }
  return { ratios, said };
}

function readCount(tokens: readonly string[] | undefined): number | null {
  const count = Number(tokens?.[0]);
  return tokens && Number.isInteger(count) && count >= 1 && count <= 20 ? count : null;
}

function unknownWords(left: readonly string[], recipes: readonly string[], recipe: string | null): UserError {
  const example = '`/spoon book "Harbour Lamp" fri 14:00 ratios 50/30/20 2:1:1 with @noor blind`';
  if (recipe === null) {
    const known =
      recipes.length > 0
        ? `The blends here are ${recipes.map((name) => `“${name}”`).join(', ')}.`
        : 'There is no blend yet: `/spoon recipe add`.';
    return new UserError(`I do not know a blend called “${left.join(' ')}”. ${known}`, `Like ${example}`);
  }
  return new UserError(`I understood the blend “${recipe}”, but not “${left.join(' ')}”.`, `Like ${example}`);
}

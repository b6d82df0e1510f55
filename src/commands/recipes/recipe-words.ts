import { findLeading, findNamed, nearNames } from '../../domain/measure/find-named.js';
import { parseBp } from '../../domain/measure/hundredths.js';
import { plainList } from '../../domain/measure/plain-list.js';
import { parseRatio } from '../../domain/ratio/parse-ratio.js';
import type { Coffee } from '../../domain/record/coffee.js';
import type { Recipe, RecipePart } from '../../domain/record/recipe.js';
import { mrkdwn } from '../../kit/escape.js';
import { UserError } from '../../runtime/errors.js';
import { type Group, RECIPE_EXAMPLE } from './recipe-messages.js';

/** A blend as words say it. */
type RecipeWords = RecipeParts & { readonly why: string | null };

const SECTIONS = new Set(['green', 'roasted', 'because', 'why', 'for']);

/** How many of the words are the name of a new blend: up to the first coffee or number. */
export function nameLength(words: readonly string[], coffees: readonly Coffee[]): number {
  if (words[0]?.includes(' ')) return 1;
  const end = words.findIndex(
    (word, index) => index > 0 && (/\d/u.test(word) || findNamed(word, coffees).kind !== 'none'),
  );
  return end < 0 ? words.length : end;
}

/**
 * Reads what a blend is made of: `chirinos 50 kayanza 30 nubosa 20 green chirinos+kayanza loss 15.3 %
 * because sweeter`, or for a blend that is there already just `40/40/20`, or only its roast groups. Groups that
 * are not said stay as they were.
 */
export function readRecipeWords(
  words: readonly string[],
  coffees: readonly Coffee[],
  current: Recipe | null,
): RecipeWords {
  const { head, green, roasted, why } = intoSections(words);
  const read: Shares =
    head.length === 0 && current
      ? { shares: current.parts.map(({ coffeeId, parts }) => ({ coffeeId, parts })), saidSo: null }
      : readParts(head, coffees, current);
  const apart = new Set(roasted.flatMap((piece) => readGroup(piece, coffees).coffeeIds));
  const said = green.map((piece) => readGroup(piece, coffees));
  const stay = read.shares.map((share) => share.coffeeId).filter((id) => !apart.has(id));
  const kept = current ? groupsOf(current, stay) : [];
  const joined = joinParts(read.shares, said.length > 0 ? said : kept, coffees);
  return { ...joined, saidSo: read.saidSo, why };
}

/** Coffees with their parts, and what has to be said about how these were read. */
type Shares = { readonly shares: readonly Share[]; readonly saidSo: string | null };

function readParts(head: readonly string[], coffees: readonly Coffee[], current: Recipe | null): Shares {
  const text = head.join(' ');
  if (/\p{L}/u.test(text) || !current) return readShares(head, coffees);
  const own = current.parts.map((part) => {
    const coffee = coffees.find((known) => known.id === part.coffeeId);
    return { id: part.coffeeId, name: coffee?.name ?? 'a coffee no longer listed' };
  });
  return sharesOf(text, own);
}

function intoSections(words: readonly string[]) {
  const head: string[] = [];
  const green: string[][] = [];
  const roasted: string[][] = [];
  let into: string[] = head;
  for (let at = 0; at < words.length; at += 1) {
    const word = words[at] ?? '';
    const key = word.toLowerCase().replace(/:$/u, '');
    if (!SECTIONS.has(key)) into.push(word);
    else if (key === 'green' || key === 'roasted') {
      into = [];
      (key === 'green' ? green : roasted).push(into);
    } else {
      const why = words.slice(at + 1).join(' ');
      return { head, green, roasted, why: why.slice(0, 200) || null };
    }
  }
  return { head, green, roasted, why: null };
}

/** What a blend is made of, with what has to be said about how it was read. */
export type RecipeParts = {
  readonly parts: readonly RecipePart[];
  readonly groupLossBp: ReadonlyMap<string, number>;
  readonly saidSo: string | null;
};

type Share = { readonly coffeeId: number; readonly parts: number };

const NUMBER = /^\d+(?:[.,]\d+)?%?$/u;
const JOINING = new Set(['and', 'of', 'with', '%', '+', '/', '&']);

/**
 * Reads `chirinos 50 kayanza 30 nubosa 20` or `50 chirinos 30 kayanza 20 nubosa`, in the order in which the
 * coffees are named. A number that belongs to a name ("Kayanza Hill 2026") stays with it.
 */
function readShares(words: readonly string[], coffees: readonly Coffee[]): Shares {
  const named: Coffee[] = [];
  const numbers: string[] = [];
  const pieces = words.flatMap(splitJoined).filter((word) => !JOINING.has(word.toLowerCase()));
  for (let at = 0; at < pieces.length; ) {
    const word = pieces[at] ?? '';
    if (NUMBER.test(word)) {
      numbers.push(word.replace(',', '.'));
      at += 1;
      continue;
    }
    const { found, rest } = findLeading(pieces.slice(at, at + MOST_NAME_WORDS), coffees);
    const used =
      found.kind === 'none'
        ? nameWords(pieces, at)
        : Math.min(MOST_NAME_WORDS, pieces.length - at) - rest.length;
    named.push(findCoffee(pieces.slice(at, at + used).join(' '), coffees));
    at += used;
  }
  if (named.length === 0) {
    throw new UserError('Which coffees is it made of?', `Like \`${RECIPE_EXAMPLE}\``);
  }
  const twice = named.find((coffee, index) => named.indexOf(coffee) !== index);
  if (twice) throw new UserError(`${twice.name} is named twice. Give each coffee one part.`);
  return sharesOf(numbers.join(' / '), named, `Like \`${RECIPE_EXAMPLE}\``);
}

/**
 * Reads the parts of these coffees; one with no part is left out.
 *
 * @throws {UserError} with `instead`, beside `input` of a form
 */
export function sharesOf(
  text: string,
  coffees: readonly Pick<Coffee, 'id' | 'name'>[],
  instead: string | null = null,
  input: string | null = null,
): Shares {
  const parsed = parseRatio(text, coffees);
  if (!parsed.ok) throw new UserError(mrkdwn(parsed.message), instead, input);
  const shares = coffees.map(({ id }, index) => ({ coffeeId: id, parts: parsed.parts[index] ?? 0 }));
  return { shares: shares.filter((share) => share.parts > 0), saidSo: parsed.saidSo };
}

const MOST_NAME_WORDS = 8;

/** Words up to the next number, for saying back a name that is not known. */
function nameWords(pieces: readonly string[], at: number): number {
  const end = pieces.findIndex((piece, index) => index > at && NUMBER.test(piece));
  return (end < 0 ? pieces.length : end) - at;
}

/** "chirinos:50," is a name and a number. */
function splitJoined(word: string): readonly string[] {
  const bare = word.replace(/[,;]+$/u, '');
  const joined = /^(.+?)[:=](\d[\d.,]*%?)$/u.exec(bare);
  return joined ? [joined[1] ?? '', joined[2] ?? ''] : bare === '' ? [] : [bare];
}

/** Reads `chirinos+kayanza` (also "chirinos and kayanza", "chirinos, kayanza") with `loss 15.3 %` after it. */
function readGroup(words: readonly string[], coffees: readonly Coffee[]): Group {
  const at = words.findIndex((word) => word.toLowerCase() === 'loss');
  const lossText = at < 0 ? null : words.slice(at + 1).join(' ');
  const lossBp = lossText === null ? null : parseBp(lossText);
  if (lossText !== null && lossBp === null) {
    throw new UserError(`I could not read “${lossText}” as a loss. Say it like loss 15.3 %.`);
  }
  const names = (at < 0 ? words : words.slice(0, at))
    .join(' ')
    .split(/\s*[+&,;]\s*|\s+and\s+/u)
    .filter((name) => name !== '');
  return { coffeeIds: names.map((name) => findCoffee(name, coffees).id), lossBp };
}

/** Puts shares and groups together; every group has at least two coffees of the blend, no coffee two groups. */
export function joinParts(
  shares: readonly Share[],
  groups: readonly Group[],
  coffees: readonly Coffee[],
  input: string | null = null,
): Omit<RecipeParts, 'saidSo'> {
  const nameOf = (id: number) => coffees.find((coffee) => coffee.id === id)?.name ?? 'a coffee';
  const groupOf = new Map<number, string>();
  const groupLossBp = new Map<string, number>();
  const refusal = (sentence: string) => new UserError(sentence, null, input);
  for (const group of groups) {
    const ordered = shares.filter((share) => group.coffeeIds.includes(share.coffeeId));
    const stranger = group.coffeeIds.find((id) => !shares.some((share) => share.coffeeId === id));
    if (stranger !== undefined) throw refusal(`${nameOf(stranger)} is not part of this blend.`);
    if (ordered.length < 2) throw refusal('Joined green takes at least two coffees.');
    const name = ordered.map((share) => nameOf(share.coffeeId)).join(' + ');
    for (const { coffeeId } of ordered) {
      if (groupOf.has(coffeeId)) throw refusal(`${nameOf(coffeeId)} can be in one roast group only.`);
      groupOf.set(coffeeId, name);
    }
    if (group.lossBp !== null) groupLossBp.set(name, group.lossBp);
  }
  const parts = shares.map((share) => ({ ...share, roastGroup: groupOf.get(share.coffeeId) ?? null }));
  return { parts, groupLossBp };
}

/** The roast groups of a blend; one that has lost a coffee is kept with those that are left, its loss is not. */
export function groupsOf(recipe: Recipe, kept: readonly number[]): readonly Group[] {
  const names = [...new Set(recipe.parts.flatMap((part) => part.roastGroup ?? []))];
  return names.flatMap((name) => {
    const all = recipe.parts.filter((part) => part.roastGroup === name).map((part) => part.coffeeId);
    const coffeeIds = all.filter((id) => kept.includes(id));
    const lossBp = coffeeIds.length === all.length ? (recipe.groupLossBp.get(name) ?? null) : null;
    return coffeeIds.length > 1 ? [{ coffeeIds, lossBp }] : [];
  });
}

function findCoffee(said: string, coffees: readonly Coffee[]): Coffee {
  const found = findNamed(said, coffees);
  if (found.kind === 'one') return found.item;
  if (found.kind === 'many') {
    const several = found.items.slice(0, 5).map((coffee) => coffee.name);
    const names = plainList(several, 'or');
    throw new UserError(`“${mrkdwn(said)}” could be ${mrkdwn(names)}. Say a little more of the name.`);
  }
  const near = nearNames(said, coffees).map((coffee) => coffee.name);
  const hint =
    near.length > 0 ? `Did you mean ${plainList(near, 'or')}?` : 'Add it first: `/spoon shelf add`.';
  throw new UserError(`I know no coffee called “${mrkdwn(said)}”.`, hint);
}

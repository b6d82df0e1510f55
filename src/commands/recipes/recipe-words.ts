import { parseRatio } from '../../domain/ratio/parse-ratio.js';
import type { Coffee } from '../../domain/record/coffee.js';
import type { Recipe } from '../../domain/record/recipe.js';
import { mrkdwn } from '../../kit/escape.js';
import { KindRefusal } from '../../runtime/errors.js';
import { findNamed } from '../shelf/shelf-find.js';
import { groupsOf, joinParts, type RecipeParts, readGroup, readShares } from './recipe-parts.js';

/** A blend as words say it. */
export type RecipeWords = RecipeParts & { readonly why: string | null };

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
  const read = head.length === 0 && current ? currentShares(current) : readParts(head, coffees, current);
  const ids = read.shares.map((share) => share.coffeeId);
  const apart = new Set(roasted.flatMap((piece) => readGroup(piece, coffees).coffeeIds));
  const said = green.map((piece) => readGroup(piece, coffees));
  const kept = current
    ? groupsOf(
        current,
        ids.filter((id) => !apart.has(id)),
      )
    : [];
  const joined = joinParts(read.shares, said.length > 0 ? said : kept, coffees);
  return { ...joined, saidSo: read.saidSo, why };
}

type Shares = ReturnType<typeof readShares>;

function readParts(head: readonly string[], coffees: readonly Coffee[], current: Recipe | null): Shares {
  const text = head.join(' ');
  if (/\p{L}/u.test(text) || !current) return readShares(head, coffees);
  const own = current.parts.map((part) => {
    const coffee = coffees.find((known) => known.id === part.coffeeId);
    return { id: part.coffeeId, name: coffee?.name ?? 'a coffee no longer listed' };
  });
  const parsed = parseRatio(text, own);
  if (!parsed.ok) throw new KindRefusal('not understood', mrkdwn(parsed.message));
  const shares = own.map((coffee, index) => ({ coffeeId: coffee.id, parts: parsed.parts[index] ?? 0 }));
  return { shares: shares.filter((share) => share.parts > 0), saidSo: parsed.saidSo };
}

function currentShares(recipe: Recipe): Shares {
  return { shares: recipe.parts.map(({ coffeeId, parts }) => ({ coffeeId, parts })), saidSo: null };
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
    } else
      return {
        head,
        green,
        roasted,
        why:
          words
            .slice(at + 1)
            .join(' ')
            .slice(0, 200) || null,
      };
  }
  return { head, green, roasted, why: null };
}

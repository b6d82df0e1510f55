import type { Recipe } from '../../domain/record/recipe.js';
import { button, buttons, say } from '../../kit/blocks.js';
import { mrkdwn, plain } from '../../kit/escape.js';
import { KindRefusal } from '../../runtime/errors.js';
import { listCoffees } from '../../store/coffees.js';
import { listRecipes } from '../../store/recipes.js';
import type { Answer } from '../common/answer.js';
import type { Deps } from '../common/deps.js';
import type { Typed } from '../common/intake.js';
import { splitWords } from '../common/values.js';
import { findLeading, nearNames } from '../shelf/shelf-find.js';
import { recipeCard, saveRecipe } from './recipe-save.js';
import { archiveRecipeOf, listRecipesFor, openRecipeForm, showVersions } from './recipe-taps.js';
import { nameLength, readRecipeWords } from './recipe-words.js';

const DEEDS = new Set(['change', 'edit', 'archive', 'versions', 'history', 'rename', 'show', 'open']);

/** `recipe …`: the list, one blend, a new one, or the next version of one. */
export async function recipeTyped(deps: Deps, typed: Typed): Promise<Answer> {
  const words = splitWords(typed.words);
  const first = (words[0] ?? '').toLowerCase();
  if (words.length === 0 || (words.length === 1 && first === 'list')) return listRecipesFor(deps, typed.who);
  if (first === 'add' || first === 'new') return addByWords(deps, typed, words.slice(1));
  const recipes = await listRecipes(deps.db, typed.who.workspace);
  const { found, rest } = findLeading(DEEDS.has(first) ? words.slice(1) : words, recipes);
  if (found.kind === 'one') {
    return doWith(deps, typed, found.item, DEEDS.has(first) ? [first, ...rest] : rest);
  }
  const said = words.join(' ');
  const offered = found.kind === 'many' ? found.items.slice(0, 8) : nearNames(said, recipes);
  return {
    message: say(
      found.kind === 'many' ? 'Which blend is it?' : `I know no blend called “${mrkdwn(said)}”.`,
      ...buttons(
        ...offered.map((recipe) => button(plain(recipe.name), `recipe.open#${recipe.id}`, recipe.id)),
        button('Add a blend', 'recipe.add', {}),
        button('All blends', 'recipe.list', {}),
      ),
    ),
  };
}

async function addByWords(deps: Deps, typed: Typed, words: readonly string[]): Promise<Answer> {
  const coffees = await listCoffees(deps.db, typed.who.workspace);
  const end = words.length === 0 ? 0 : nameLength(words, coffees);
  const name = words.slice(0, end).join(' ');
  if (words.length === end) return openRecipeForm(deps, typed.who, null, name);
  const read = readRecipeWords(words.slice(end), coffees, null);
  const { recipeId } = await saveRecipe(deps, typed.who, { ...read, recipeId: null, name });
  const done = [`Added *${mrkdwn(name)}*.`, ...(read.saidSo ? [mrkdwn(read.saidSo)] : [])].join(' ');
  return { message: await recipeCard(deps.db, typed.who.workspace, recipeId, done) };
}

async function doWith(deps: Deps, typed: Typed, recipe: Recipe, rest: readonly string[]): Promise<Answer> {
  const { workspace } = typed.who;
  const [deed = '', ...after] = rest;
  const only = after.length === 0;
  switch (only ? deed.toLowerCase() : '') {
    case 'show':
    case 'open':
      return { message: await recipeCard(deps.db, workspace, recipe.id) };
    case 'change':
    case 'edit':
      return openRecipeForm(deps, typed.who, recipe);
    case 'archive':
      return archiveRecipeOf(deps, typed.who, recipe.id);
    case 'versions':
    case 'history':
      return showVersions(deps, typed.who, recipe.id);
    default:
  }
  if (rest.length === 0) return { message: await recipeCard(deps.db, workspace, recipe.id) };
  if (deed.toLowerCase() === 'rename') return rename(deps, typed, recipe, after.join(' '));
  const coffees = await listCoffees(deps.db, workspace);
  const words = deed.toLowerCase() === 'change' || deed.toLowerCase() === 'edit' ? after : rest;
  const read = readRecipeWords(words, coffees, recipe);
  const { newVersion } = await saveRecipe(deps, typed.who, { ...read, recipeId: recipe.id, name: null });
  const done = newVersion ? 'Kept as a new version.' : 'It is so already; nothing changed.';
  const said = read.saidSo ? `${done} ${mrkdwn(read.saidSo)}` : done;
  return { message: await recipeCard(deps.db, workspace, recipe.id, said) };
}

async function rename(deps: Deps, typed: Typed, recipe: Recipe, words: string): Promise<Answer> {
  const name = words.replace(/^to\s+/iu, '');
  if (name === '') {
    throw new KindRefusal(
      'not understood',
      `What should ${mrkdwn(recipe.name)} be called?`,
      'Like `/spoon recipe "Harbour Lamp" rename "Harbour Light"`',
    );
  }
  const { parts, groupLossBp } = recipe;
  await saveRecipe(deps, typed.who, { recipeId: recipe.id, name, parts, groupLossBp, why: null });
  return {
    message: await recipeCard(
      deps.db,
      typed.who.workspace,
      recipe.id,
      `Renamed from ${mrkdwn(recipe.name)}.`,
    ),
  };
}

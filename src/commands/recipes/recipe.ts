import { findLeading, nearNames } from '../../domain/measure/find-named.js';
import type { Recipe } from '../../domain/record/recipe.js';
import { button, buttons, say } from '../../kit/blocks.js';
import { mrkdwn, plain } from '../../kit/escape.js';
import { UserError } from '../../runtime/errors.js';
import { listCoffees } from '../../store/coffees.js';
import { inTransaction } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import { archiveRecipe, findRecipeVersion, listRecipes } from '../../store/recipes.js';
import type { Answer, Deps, Feature } from '../common/bot.js';
import { Id, readValue, splitWords, type Tap, type Typed, type Who } from '../common/intake.js';
import { requireAllowed } from '../common/standing.js';
import {
  RECIPE_EXAMPLE,
  type RecipeDraft,
  recipeForm,
  recipeListMessage,
  versionsMessage,
} from './recipe-messages.js';
import { recipeSubmitted, rowTap } from './recipe-submitted.js';
import { groupsOf, nameLength, readRecipeWords } from './recipe-words.js';
import { loadVersions, requireRecipe, saveRecipe, showRecipe } from './saved-recipe.js';

/** Blends: their parts, what is roasted together, what they cost, and their versions. */
export const recipe: Feature = {
  verb: {
    name: 'recipe',
    does: 'Blends: list, add, change, show parts, roast groups and cost',
    example: RECIPE_EXAMPLE,
    run: recipeTyped,
  },
  taps: {
    'recipe.list': { for: 'look', run: (deps, tap) => listRecipesFor(deps, tap.who) },
    'recipe.open': {
      for: 'look',
      run: (deps, tap) => showRecipe(deps, tap.who, readValue(Id, tap.value)),
    },
    'recipe.add': { for: 'change recipe', run: (deps, tap) => openRecipeForm(deps, tap.who, null) },
    'recipe.change': { for: 'change recipe', run: changeTap },
    'recipe.row': { for: 'change recipe', run: rowTap },
    'recipe.versions': {
      for: 'look',
      run: (deps, tap) => showVersions(deps, tap.who, readValue(Id, tap.value)),
    },
    'recipe.again': { for: 'change recipe', run: againTap },
    'recipe.archive': {
      for: 'change recipe',
      run: (deps, tap) => archiveRecipeOf(deps, tap.who, readValue(Id, tap.value)),
    },
  },
  forms: {
    'recipe.form': { for: 'change recipe', run: recipeSubmitted },
  },
  subjects: {},
};

const DEEDS = new Set(['change', 'edit', 'archive', 'versions', 'history', 'rename', 'show', 'open']);

/** `recipe …`: the list, one blend, a new one, or the next version of one. */
async function recipeTyped(deps: Deps, typed: Typed): Promise<Answer> {
  const words = splitWords(typed.words);
  const first = (words[0] ?? '').toLowerCase();
  if (words.length === 0 || (words.length === 1 && first === 'list')) return listRecipesFor(deps, typed.who);
  if (first === 'add' || first === 'new') return addByWords(deps, typed, words.slice(1));
  const recipes = await listRecipes(deps.db, typed.who.workspace);
  const { found, rest } = findLeading(DEEDS.has(first) ? words.slice(1) : words, recipes);
  if (found.kind === 'one')
    return doWith(deps, typed, found.item, DEEDS.has(first) ? [first, ...rest] : rest);
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
  return showRecipe(deps, typed.who, recipeId, `Added *${mrkdwn(name)}*.`, read.saidSo);
}

async function doWith(deps: Deps, typed: Typed, recipe: Recipe, rest: readonly string[]): Promise<Answer> {
  const [said = '', ...after] = rest;
  const deed = said.toLowerCase();
  switch (after.length === 0 ? deed : 'more') {
    case '':
    case 'show':
    case 'open':
      return showRecipe(deps, typed.who, recipe.id);
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
  if (deed === 'rename') return rename(deps, typed, recipe, after.join(' '));
  const coffees = await listCoffees(deps.db, typed.who.workspace);
  const words = deed === 'change' || deed === 'edit' ? after : rest;
  const read = readRecipeWords(words, coffees, recipe);
  const { newVersion } = await saveRecipe(deps, typed.who, { ...read, recipeId: recipe.id, name: null });
  const done = newVersion ? 'Kept as a new version.' : 'It is so already; nothing changed.';
  return showRecipe(deps, typed.who, recipe.id, done, read.saidSo);
}

async function rename(deps: Deps, typed: Typed, recipe: Recipe, words: string): Promise<Answer> {
  const name = words.replace(/^to\s+/iu, '');
  if (name === '') {
    throw new UserError(
      `What should ${mrkdwn(recipe.name)} be called?`,
      'Like `/spoon recipe "Harbour Lamp" rename "Harbour Light"`',
    );
  }
  const { parts, groupLossBp } = recipe;
  await saveRecipe(deps, typed.who, { recipeId: recipe.id, name, parts, groupLossBp, why: null });
  return showRecipe(deps, typed.who, recipe.id, `Renamed from ${mrkdwn(recipe.name)}.`);
}

/** All blends. */
async function listRecipesFor(deps: Deps, who: Who): Promise<Answer> {
  const coffees = await listCoffees(deps.db, who.workspace);
  const byId = new Map(coffees.map((coffee) => [coffee.id, coffee]));
  return { message: recipeListMessage(await listRecipes(deps.db, who.workspace), byId) };
}

/** The form of a new blend, or of one that is there, filled in. */
async function openRecipeForm(deps: Deps, who: Who, recipe: Recipe | null, name = ''): Promise<Answer> {
  const coffees = await listCoffees(deps.db, who.workspace);
  if (coffees.length < 2) {
    throw new UserError(
      'A blend needs at least two coffees, and there are not that many yet.',
      'Add them first: `/spoon shelf add`.',
    );
  }
  return { form: recipeForm(recipe ? draftOf(recipe) : newDraft(name), coffees) };
}

/** The button that changes a blend. */
async function changeTap(deps: Deps, tap: Tap): Promise<Answer> {
  const recipe = await requireRecipe(deps.db, tap.who.workspace, readValue(Id, tap.value));
  return openRecipeForm(deps, tap.who, recipe);
}

/** The history of a blend. */
async function showVersions(deps: Deps, who: Who, recipeId: number): Promise<Answer> {
  const facts = await loadHouse(deps.db, who.workspace);
  return { message: versionsMessage(await loadVersions(deps.db, who.workspace, facts, recipeId)) };
}

/** Takes up an older version again, as the newest one. */
async function againTap(deps: Deps, tap: Tap): Promise<Answer> {
  const old = await findRecipeVersion(deps.db, tap.who.workspace, readValue(Id, tap.value));
  if (!old) throw new UserError('That version is gone.', 'See `/spoon recipe`.');
  const why = `Version ${old.version} again.`;
  const saved = { recipeId: old.id, name: null, parts: old.parts, groupLossBp: old.groupLossBp, why };
  const { newVersion } = await saveRecipe(deps, tap.who, saved);
  const done = newVersion ? why : `It is as in version ${old.version} already.`;
  return showRecipe(deps, tap.who, old.id, done);
}

/** Takes a blend out of use; booked tastings of it stay. */
async function archiveRecipeOf(deps: Deps, who: Who, recipeId: number): Promise<Answer> {
  return inTransaction(deps.db, async (trx) => {
    await requireAllowed(trx, who, 'change recipe');
    const recipe = await requireRecipe(trx, who.workspace, recipeId);
    await archiveRecipe(trx, who.workspace, recipeId, deps.clock.now());
    return {
      message: say(
        `Archived *${mrkdwn(recipe.name)}*. Its versions and tastings stay on record.`,
        ...buttons(button('All blends', 'recipe.list', {})),
      ),
    };
  });
}

function newDraft(name: string): RecipeDraft {
  const rows = Array.from({ length: 3 }, () => ({ coffee: '', part: '' }));
  return { recipe: null, name, rows, groups: [], why: '' };
}

function draftOf(recipe: Recipe): RecipeDraft {
  const ids = recipe.parts.map((part) => part.coffeeId);
  return {
    recipe: recipe.id,
    name: recipe.name,
    rows: recipe.parts.map((part) => ({ coffee: String(part.coffeeId), part: String(part.parts) })),
    groups: groupsOf(recipe, ids),
    why: '',
  };
}

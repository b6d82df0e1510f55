import type { Feature } from '../common/feature.js';
import { Id, readValue } from '../common/values.js';
import { recipeSubmitted, rowTap } from './recipe-submitted.js';
import {
  againTap,
  archiveRecipeOf,
  changeTap,
  listRecipesFor,
  openRecipeForm,
  openTap,
  showVersions,
} from './recipe-taps.js';
import { recipeTyped } from './recipe-typed.js';

/** Blends: their parts, what is roasted together, what they cost, and their versions. */
export const recipe: Feature = {
  verb: {
    name: 'recipe',
    does: 'Blends: list, add, change, show parts, roast groups and cost',
    example: '/spoon recipe add "Harbour Lamp" chirinos 50 kayanza 30 nubosa 20 green chirinos+kayanza',
    run: recipeTyped,
  },
  taps: new Map([
    ['recipe.list', (deps, tap) => listRecipesFor(deps, tap.who)],
    ['recipe.open', openTap],
    ['recipe.add', (deps, tap) => openRecipeForm(deps, tap.who, null)],
    ['recipe.change', changeTap],
    ['recipe.row', rowTap],
    ['recipe.versions', (deps, tap) => showVersions(deps, tap.who, readValue(Id, tap.value))],
    ['recipe.again', againTap],
    ['recipe.archive', (deps, tap) => archiveRecipeOf(deps, tap.who, readValue(Id, tap.value))],
  ]),
  forms: new Map([['recipe.form', recipeSubmitted]]),
};

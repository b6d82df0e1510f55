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
  taps: {
    'recipe.list': { for: 'look', run: (deps, tap) => listRecipesFor(deps, tap.who) },
    'recipe.open': { for: 'look', run: openTap },
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

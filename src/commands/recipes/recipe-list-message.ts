import { counted, plainList } from '../../domain/measure/plain-list.js';
import type { Coffee } from '../../domain/record/coffee.js';
import type { Recipe } from '../../domain/record/recipe.js';
import { button, buttons, context, header, section, sections } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import type { Message } from '../../kit/message.js';
import { pickCoffee } from '../shelf/shelf-list-message.js';
import { versionLine } from './recipe-card-message.js';
import { recipeCoffees, recipeRatio, type VersionShown } from './recipe-view-message.js';

const MOST_SHOWN = 12;

/** The blends of a house. */
export function recipeListMessage(recipes: readonly Recipe[], coffees: ReadonlyMap<number, Coffee>): Message {
  if (recipes.length === 0) return noRecipe(coffees.size > 0);
  const title = counted(recipes.length, 'blend');
  const lines = recipes.slice(0, MOST_SHOWN).map((recipe) => {
    const names = recipeCoffees(recipe, coffees).slice(0, 3);
    return `• *${mrkdwn(recipe.name)}* · ${recipeRatio(recipe)} · ${mrkdwn(names.join(', '))}`;
  });
  const more = recipes.length - MOST_SHOWN;
  return {
    text: `${title}: ${mrkdwn(plainList(recipes.slice(0, MOST_SHOWN).map((recipe) => recipe.name)))}`,
    blocks: [
      header(title),
      ...sections(lines),
      ...(more > 0 ? [context(`${counted(more, 'more')} in the menu.`)] : []),
      pickCoffee('recipe.open', 'Open a blend', recipes),
      ...buttons(button('Add a blend', 'recipe.add', {})),
    ],
  };
}

/** The history of a blend, newest first, with a way back. */
export function versionsMessage(versions: readonly VersionShown[]): Message {
  const [latest] = versions;
  const name = mrkdwn(latest?.recipe.name ?? '');
  const older = versions.slice(1, 100).map((version) => ({
    id: version.recipe.versionId,
    name: `Version ${version.recipe.version}: ${recipeRatio(version.recipe)}`,
  }));
  return {
    text: `${name}: ${counted(versions.length, 'version')}`,
    blocks: [
      section(`*${name}*: ${counted(versions.length, 'version')}`),
      ...sections(
        versions
          .slice(0, MOST_SHOWN)
          .map((version) => `• *${recipeRatio(version.recipe)}* · ${versionLine(version)}`),
      ),
      ...(older.length > 0 ? [pickCoffee('recipe.again', 'Take up an older version again', older)] : []),
      ...buttons(
        ...(latest ? [button('Back to the blend', 'recipe.open', latest.recipe.id)] : []),
        button('All blends', 'recipe.list', {}),
      ),
    ],
  };
}

function noRecipe(hasCoffees: boolean): Message {
  const sentence = hasCoffees
    ? 'There is no blend yet. Name its coffees and their parts.'
    : 'There is no blend yet, and no coffee to make one of. Add the coffees first.';
  return {
    text: sentence,
    blocks: [
      section(sentence),
      context(
        'By words: `/spoon recipe add "Harbour Lamp" chirinos 50 kayanza 30 nubosa 20 green chirinos+kayanza`',
      ),
      ...buttons(
        hasCoffees
          ? button('Add a blend', 'recipe.add', {}, { style: 'primary' })
          : button('Add a coffee', 'shelf.add', {}, { style: 'primary' }),
      ),
    ],
  };
}

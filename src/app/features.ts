import { book } from '../commands/booking/book.js';
import type { Feature, Verb } from '../commands/common/bot.js';
import { digest } from '../commands/deciding/digest.js';
import { homeFeature } from '../commands/home/home.js';
import { house } from '../commands/house/house.js';
import { note } from '../commands/notes/note.js';
import { pour } from '../commands/pouring/pour.js';
import { privacy } from '../commands/privacy/privacy.js';
import { recipe } from '../commands/recipes/recipe.js';
import { ask } from '../commands/roasting/ask.js';
import { shelf } from '../commands/shelf/shelf.js';
import { table } from '../commands/table/table.js';
import { tally } from '../commands/tallying/tally.js';
import { words } from '../commands/words/words.js';

/**
 * The features of the bot, in the order help shows them; `more` stand before help. Verbs, buttons, forms,
 * notices, reminders, help, the manifest's hint (their verbs) and who may use what all follow from this list.
 */
export function listFeatures(more: readonly Feature[] = []): readonly Feature[] {
  const jobs = [book, table, pour, note, tally, digest, ask, shelf, recipe, words, house, privacy, ...more];
  const features: readonly Feature[] = [...jobs, homeFeature(() => verbsOf(features))];
  return features;
}

/** Their words after `/spoon`. */
export function verbsOf(features: readonly Feature[]): readonly Verb[] {
  return features.flatMap(({ verb }) => verb ?? []);
}

import type { TableSetting } from '../../domain/record/table-setting.js';
import { LIVE_STATES, type Tasting, type TastingState, tastingName } from '../../domain/record/tasting.js';
import { UserError } from '../../runtime/errors.js';
import { coffeesById } from '../../store/coffees.js';
import { listCups } from '../../store/cups.js';
import type { Db } from '../../store/db.js';
import { findTableThread } from '../../store/notes.js';
import { findRecipeVersion } from '../../store/recipes.js';
import { findTasting, findTastingByNumber, listTastings } from '../../store/tastings.js';
import type { Typed, Who } from './intake.js';
import { requireAtTable } from './standing.js';

/** The table of a tasting: its recipe as it was booked, its cups and their coffees. */
export async function loadTable(db: Db, workspace: string, tasting: Tasting): Promise<TableSetting> {
  const recipe = await findRecipeVersion(db, workspace, tasting.recipeVersionId);
  if (!recipe) throw new Error(`tasting ${tasting.id} has no recipe version ${tasting.recipeVersionId}`);
  const cups = await listCups(db, tasting.id);
  const ids = new Set([
    ...recipe.parts.map((part) => part.coffeeId),
    ...cups.flatMap((cup) => cup.parts.map((part) => part.coffeeId)),
  ]);
  return { tasting, recipe, cups, coffees: await coffeesById(db, workspace, [...ids]) };
}

/** The table with this id in the person's own workspace. */
export async function requireTable(db: Db, workspace: string, tastingId: number): Promise<TableSetting> {
  const tasting = await findTasting(db, workspace, tastingId);
  if (!tasting)
    throw new UserError('I cannot find that tasting any more.', 'Type `/spoon` to see what is next.');
  return loadTable(db, workspace, tasting);
}

/** The table with this id, for somebody who asks in this channel: in its own, or as one of its people. */
export async function requireTableAt(
  db: Db,
  who: Who,
  channel: string | null,
  tastingId: number,
  action: 'look at table' | 'taste' = 'look at table',
): Promise<TableSetting> {
  const setting = await requireTable(db, who.workspace, tastingId);
  await requireAtTable(db, who, channel, setting.tasting, action);
  return setting;
}

/** @throws {UserError} that says so when the table was never opened, and what that means for the one who asks */
export function requireOpened(tasting: Tasting, so: string): void {
  if (tasting.openedAt !== null) return;
  const name = tastingName(tasting);
  throw new UserError(`${name} has not been opened${so} yet.`, `Open it: \`/spoon table ${name} open\``);
}

/** A tasting's name among words: "T4", "t4", "4" alone. Returns the words that are left. */
export function takeTastingName(words: string): { readonly number: number | null; readonly rest: string } {
  const match = /(?:^|\s)t(\d{1,6})(?=\s|$)/i.exec(words) ?? /^\s*(\d{1,6})\s*$/.exec(words);
  if (!match) return { number: null, rest: words.trim() };
  const rest = `${words.slice(0, match.index)} ${words.slice(match.index + match[0].length)}`;
  return { number: Number(match[1]), rest: rest.trim() };
}

/**
 * The tasting that is meant, with the words that are left: the one named, the one whose thread the words stand in, or
 * the only one that can be meant in this channel; otherwise a refusal that names the choices.
 *
 * @param states which states make sense here, the likelier first
 */
export async function whichTasting(
  db: Db,
  typed: Typed,
  states: readonly TastingState[] = LIVE_STATES,
  example = '/spoon table T4',
): Promise<{ readonly tasting: Tasting; readonly rest: string }> {
  const { number, rest } = takeTastingName(typed.words);
  if (number !== null) return { tasting: await named(db, typed.who.workspace, number), rest };
  return { tasting: await unnamed(db, typed, states, example), rest };
}

async function unnamed(
  db: Db,
  typed: Typed,
  states: readonly TastingState[],
  example: string,
): Promise<Tasting> {
  const { workspace } = typed.who;
  const thread =
    typed.threadTs === null
      ? null
      : await findTableThread(db, { workspace, channel: typed.channel, ts: typed.threadTs });
  const here = thread && (await findTasting(db, workspace, thread.tastingId));
  if (here) return here;
  const candidates = await listTastings(db, workspace, states);
  const inChannel = candidates.filter((tasting) => tasting.channel === typed.channel);
  const likely = inChannel.length > 0 ? inChannel : candidates;
  for (const state of states) {
    const inState = likely.filter((tasting) => tasting.state === state);
    if (inState.length === 1 && inState[0]) return inState[0];
    if (inState.length > 1) break;
  }
  if (likely.length === 0)
    throw new UserError('There is no tasting for that yet.', 'Book one: `/spoon book`');
  const names = likely.slice(-8).map(tastingName).join(', ');
  throw new UserError(`Which tasting? There are ${names}.`, `Say its name, like \`${example}\``);
}

async function named(db: Db, workspace: string, number: number): Promise<Tasting> {
  const tasting = await findTastingByNumber(db, workspace, number);
  if (tasting) return tasting;
  const known = (await listTastings(db, workspace, LIVE_STATES)).slice(-8).map(tastingName);
  const instead = known.length > 0 ? `There are ${known.join(', ')}.` : 'Book one: `/spoon book`';
  throw new UserError(`There is no tasting T${number}.`, instead);
}

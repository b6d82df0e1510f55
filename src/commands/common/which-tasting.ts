import { LIVE_STATES, type Tasting, type TastingState, tastingName } from '../../domain/record/tasting.js';
import { KindRefusal } from '../../runtime/errors.js';
import type { DbOrTransaction } from '../../store/db.js';
import { findTasting, findTastingByNumber, listTastings } from '../../store/tastings.js';
import { findTableThread } from '../../store/threads.js';
import type { Typed } from './intake.js';

/** A tasting's name among words: "T4", "t4", "4" alone. Returns the words that are left. */
export function takeTastingName(words: string): { readonly number: number | null; readonly rest: string } {
  const match = /(?:^|\s)t(\d{1,6})(?=\s|$)/i.exec(words) ?? /^\s*(\d{1,6})\s*$/.exec(words);
  if (!match) return { number: null, rest: words.trim() };
  const rest = `${words.slice(0, match.index)} ${words.slice(match.index + match[0].length)}`;
  return { number: Number(match[1]), rest: rest.trim() };
}

/**
 * The tasting that is meant: the one named, the one whose thread the words stand in, or the only one that
 * can be meant in this channel; otherwise a refusal that names the choices.
 *
 * @param states which states make sense here, the likelier first
 */
export async function whichTasting(
  db: DbOrTransaction,
  typed: Pick<Typed, 'who' | 'channel' | 'threadTs'>,
  number: number | null,
  states: readonly TastingState[] = LIVE_STATES,
  example = '/spoon table T4',
): Promise<Tasting> {
  const { workspace } = typed.who;
  if (number !== null) return named(db, workspace, number);
  const thread =
    typed.threadTs === null ? null : await findTableThread(db, workspace, typed.channel, typed.threadTs);
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
    throw new KindRefusal('not found', 'There is no tasting for that yet.', 'Book one: `/spoon book`');
  const names = likely.slice(-8).map(tastingName).join(', ');
  throw new KindRefusal(
    'not understood',
    `Which tasting? There are ${names}.`,
    `Say its name, like \`${example}\``,
  );
}

async function named(db: DbOrTransaction, workspace: string, number: number): Promise<Tasting> {
  const tasting = await findTastingByNumber(db, workspace, number);
  if (tasting) return tasting;
  const known = (await listTastings(db, workspace, LIVE_STATES)).slice(-8).map(tastingName);
  const instead = known.length > 0 ? `There are ${known.join(', ')}.` : 'Book one: `/spoon book`';
  throw new KindRefusal('not found', `There is no tasting T${number}.`, instead);
}

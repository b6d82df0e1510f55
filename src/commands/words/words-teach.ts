import { counted } from '../../domain/measure/plain-list.js';
import { extendVocabulary, findAttribute, SHIPPED_VOCABULARY } from '../../domain/notes/vocabulary.js';
import { section } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import type { DbOrTransaction } from '../../store/db.js';
import { forgetHouseWord, listHouseWords, saveHouseWord } from '../../store/house-words.js';
import { inTransaction } from '../../store/transaction.js';
import type { Answer } from '../common/answer.js';
import type { Deps } from '../common/deps.js';
import { requireAllowed } from '../common/standing.js';
import type { Who } from '../common/who.js';
import { rereadOpenTables } from '../notes/reread.js';
import { wordCardMessage, wordConflictMessage } from './words-card-message.js';
import { wordListMessage } from './words-list-message.js';
import { findTaught, requireWords, wordShown } from './words-meaning.js';

/** What came of teaching one word. */
export type Taught =
  | { readonly kind: 'taught' | 'known'; readonly words: string }
  /** It means something else: in this house, where it can be replaced, or in everybody's vocabulary. */
  | { readonly kind: 'clash'; readonly words: string; readonly means: string; readonly shipped: boolean };

/**
 * Teaches one word without reading anything again. What it means elsewhere is never overwritten unless
 * `replace` says so, and the common vocabulary not even then.
 *
 * @param attribute a name of the vocabulary
 */
export async function teachWord(
  db: DbOrTransaction,
  who: Who,
  word: { readonly words: string; readonly attribute: string },
  at: Date,
  replace: boolean,
): Promise<Taught> {
  const words = requireWords(word.words);
  const { attribute } = word;
  const row = await findTaught(db, who.workspace, words);
  if (row?.attribute === attribute) return { kind: 'known', words };
  if (row && !replace) return { kind: 'clash', words, means: row.attribute, shipped: false };
  const [conflict] = extendVocabulary(SHIPPED_VOCABULARY, [{ words, attribute }]).conflicts;
  if (conflict?.means !== undefined) return { kind: 'clash', words, means: conflict.means, shipped: true };
  const common = row ? null : findAttribute(SHIPPED_VOCABULARY, words);
  if (common === attribute) return { kind: 'known', words };
  // A form of a common word ("lemony") may mean something of its own here, once somebody says so.
  if (common !== null && !replace) return { kind: 'clash', words, means: common, shipped: false };
  if (row && row.words !== words) await forgetHouseWord(db, who.workspace, row.words);
  await saveHouseWord(db, { workspace: who.workspace, words, attribute, by: who.person, at });
  return { kind: 'taught', words };
}

/** Teaches a word, lets it act on open tables at once, and says what came of it. */
export async function teach(
  deps: Deps,
  who: Who,
  word: { readonly words: string; readonly attribute: string },
  replace = false,
): Promise<Answer> {
  return inTransaction(deps.db, async (trx) => {
    await requireAllowed(trx, who, 'teach words');
    const now = deps.clock.now();
    const taught = await teachWord(trx, who, word, now, replace);
    if (taught.kind === 'clash' && !taught.shipped) {
      return { message: wordConflictMessage(taught.words, taught.means, word.attribute) };
    }
    const done = await saidOf(trx, who, taught, now);
    return { message: wordCardMessage(await wordShown(trx, who.workspace, taught.words), done) };
  });
}

async function saidOf(db: DbOrTransaction, who: Who, taught: Taught, now: Date): Promise<string> {
  const said = `“${mrkdwn(taught.words)}”`;
  if (taught.kind === 'known') return `${said} means that already.`;
  if (taught.kind === 'clash') {
    return `${said} is a word of the common vocabulary and keeps its meaning. Teach a longer phrase instead.`;
  }
  return ['Thank you, I will remember.', ...(await readAgain(db, who.workspace, now))].join(' ');
}

/** Forgets a taught word; notes of open tables are read without it. */
export async function forget(deps: Deps, who: Who, said: string): Promise<Answer> {
  return inTransaction(deps.db, async (trx) => {
    await requireAllowed(trx, who, 'teach words');
    const words = requireWords(said);
    const row = await findTaught(trx, who.workspace, words);
    if (!row) {
      const done = `“${mrkdwn(words)}” was not taught here, so there is nothing to forget.`;
      return { message: wordCardMessage(await wordShown(trx, who.workspace, words), done) };
    }
    await forgetHouseWord(trx, who.workspace, row.words);
    const again = await readAgain(trx, who.workspace, deps.clock.now());
    const rest = wordListMessage(await listHouseWords(trx, who.workspace));
    const done = [`Forgot “${mrkdwn(words)}”.`, ...again].join(' ');
    return {
      message: {
        text: done,
        blocks: [section(done), ...rest.blocks],
      },
    };
  });
}

/** Reads the notes of open tables again; says how many, or nothing when there are none. */
export async function readAgain(
  db: DbOrTransaction,
  workspace: string,
  now: Date,
): Promise<readonly string[]> {
  const notes = await rereadOpenTables(db, workspace, now);
  return notes > 0 ? [`I read ${counted(notes, 'note')} of open tables again.`] : [];
}

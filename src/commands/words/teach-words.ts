import { nearNames } from '../../domain/measure/find-named.js';
import { editDistance } from '../../domain/measure/nearest-word.js';
import { counted } from '../../domain/measure/plain-list.js';
import {
  describeAttribute,
  extendVocabulary,
  findAttribute,
  phraseWords,
  SHIPPED_VOCABULARY,
  type Vocabulary,
} from '../../domain/notes/vocabulary.js';
import { formatShortDay, localDay } from '../../domain/when/local-day.js';
import { section } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import { UserError } from '../../runtime/errors.js';
import { type Db, inTransaction } from '../../store/db.js';
import {
  forgetHouseWord,
  type HouseWord,
  listHouseWords,
  loadHouse,
  saveHouseWord,
} from '../../store/house.js';
import type { Answer, Deps } from '../common/bot.js';
import type { Who } from '../common/intake.js';
import { requireAllowed } from '../common/standing.js';
import { houseVocabulary, rereadOpenTables } from '../common/table-notes.js';
import {
  type AttributeFamily,
  type WordShown,
  wordCardMessage,
  wordConflictMessage,
  wordListMessage,
} from './words-messages.js';

const MOST_LENGTH = 60;

/** Words as the reader sees them: small letters, plain quotes, no punctuation; '' when nothing is left. */
function foldWords(words: string): string {
  return phraseWords(words).join(' ');
}

/** @throws {UserError} when the words cannot be taught: none, or too many for one phrase */
function requireWords(words: string): string {
  const folded = foldWords(words);
  if (folded !== '' && folded.length <= MOST_LENGTH && /\p{L}/u.test(folded)) return folded;
  const sentence =
    folded.length > MOST_LENGTH ? 'That is too long for one word or phrase.' : 'Which word or phrase is it?';
  throw new UserError(sentence, 'Like `/spoon words "sugarcane juice" = cane sugar`', 'words');
}

/** The attribute that is meant by its name or by any words for it. */
export function requireAttribute(said: string, vocabulary: Vocabulary): string {
  const name = said.trim().toLowerCase();
  const known = vocabulary.attributes.has(name) ? name : findAttribute(vocabulary, said);
  if (known !== null) return known;
  const all = [...vocabulary.attributes.keys()].map((attribute, id) => ({ id, name: attribute }));
  const near = nearNames(said, all).map((attribute) => `*${attribute.name}*`);
  throw new UserError(
    `“${mrkdwn(said)}” is no attribute I know.${near.length > 0 ? ` Nearest: ${near.join(', ')}.` : ''}`,
    'Tap “Teach a word” in `/spoon words` to choose from all of them.',
    'attribute',
  );
}

/** The row that teaches these words here, or null. */
async function findTaught(db: Db, workspace: string, folded: string): Promise<HouseWord | null> {
  const taught = await listHouseWords(db, workspace);
  return taught.find((word) => foldWords(word.words) === folded) ?? null;
}

/** What words mean in this house, with who taught it. */
export async function wordShown(db: Db, workspace: string, words: string): Promise<WordShown> {
  const folded = foldWords(words);
  const vocabulary = await houseVocabulary(db, workspace);
  const attribute = findAttribute(vocabulary, folded);
  const described = attribute === null ? null : describeAttribute(vocabulary, attribute);
  if (!described) return { words: folded, meaning: null };
  const row = await findTaught(db, workspace, folded);
  const { timeZone } = await loadHouse(db, workspace);
  const { entry, taught } = described;
  // The vocabulary also holds usual misspellings and plurals; they are read, not shown.
  const said = entry.words.filter((word) => editDistance(word, entry.name, 2) > 2);
  const others = [...taught, entry.name, ...said].filter((other) => foldWords(other) !== folded);
  return {
    words: folded,
    meaning: {
      attribute: entry.name,
      family: entry.family,
      subfamily: entry.subfamily,
      taught: row ? { by: row.by, day: formatShortDay(localDay(row.at, timeZone)) } : null,
      others: [...new Set(others)],
    },
  };
}

/** All attributes by family, for a menu. */
export function attributeFamilies(vocabulary: Vocabulary): readonly AttributeFamily[] {
  const families = new Map<string, string[]>();
  for (const { name, family } of vocabulary.attributes.values())
    families.set(family, [...(families.get(family) ?? []), name]);
  return [...families].map(([family, attributes]) => ({ family, attributes }));
}

/** What came of teaching one word. */
type Taught =
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
  db: Db,
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

/** Teaches a word, its attribute as said, lets it act on open tables at once, and says what came of it. */
export async function teach(
  deps: Deps,
  who: Who,
  said: { readonly words: string; readonly attribute: string },
  replace = false,
): Promise<Answer> {
  const vocabulary = await houseVocabulary(deps.db, who.workspace);
  const word = { words: said.words, attribute: requireAttribute(said.attribute, vocabulary) };
  return inTransaction(deps.db, async (trx) => {
    await requireAllowed(trx, who, 'teach words');
    const now = deps.clock.now();
    const taught = await teachWord(trx, who, word, now, replace);
    if (taught.kind === 'clash' && !taught.shipped)
      return { message: wordConflictMessage(taught.words, taught.means, word.attribute) };
    const done = await saidOf(trx, who, taught, now);
    return { message: wordCardMessage(await wordShown(trx, who.workspace, taught.words), done) };
  });
}

async function saidOf(db: Db, who: Who, taught: Taught, now: Date): Promise<string> {
  const said = `“${mrkdwn(taught.words)}”`;
  if (taught.kind === 'known') return `${said} means that already.`;
  if (taught.kind === 'clash')
    return `${said} is a word of the common vocabulary and keeps its meaning. Teach a longer phrase instead.`;
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
    return { message: { text: done, blocks: [section(done), ...rest.blocks] } };
  });
}

/** Reads the notes of open tables again; says how many, or nothing when there are none. */
export async function readAgain(db: Db, workspace: string, now: Date): Promise<readonly string[]> {
  const notes = await rereadOpenTables(db, workspace, now);
  return notes > 0 ? [`I read ${counted(notes, 'note')} of open tables again.`] : [];
}

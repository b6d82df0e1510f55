import { editDistance } from '../domain/measure/nearest-word.js';
import {
  describeAttribute,
  findAttribute,
  phraseWords,
  type Vocabulary,
} from '../domain/notes/vocabulary.js';
import { formatShortDay } from '../domain/when/format-when.js';
import { localDay } from '../domain/when/local-day.js';
import { KindRefusal } from '../errors.js';
import { mrkdwn } from '../notices/escape.js';
import type { WordShown } from '../notices/words-card.js';
import type { AttributeFamily } from '../notices/words-form.js';
import type { DbOrTransaction } from '../store/db.js';
import { loadHouse } from '../store/house.js';
import { type HouseWord, listHouseWords } from '../store/house-words.js';
import { houseVocabulary } from './house-vocabulary.js';
import { nearNames } from './shelf-find.js';

const MOST_LENGTH = 60;

/** Words as the reader sees them: small letters, plain quotes, no punctuation; '' when nothing is left. */
function foldWords(words: string): string {
  return phraseWords(words).join(' ');
}

/** @throws {KindRefusal} when the words cannot be taught: none, or too many for one phrase */
export function requireWords(words: string): string {
  const folded = foldWords(words);
  if (folded !== '' && folded.length <= MOST_LENGTH && /\p{L}/u.test(folded)) return folded;
  const sentence =
    folded.length > MOST_LENGTH ? 'That is too long for one word or phrase.' : 'Which word or phrase is it?';
  throw new KindRefusal(
    'not understood',
    sentence,
    'Like `/spoon words "sugarcane juice" = cane sugar`',
    'words',
  );
}

/** The attribute that is meant by its name or by any words for it. */
export function requireAttribute(said: string, vocabulary: Vocabulary): string {
  const name = said.trim().toLowerCase();
  const known = vocabulary.attributes.has(name) ? name : findAttribute(vocabulary, said);
  if (known !== null) return known;
  const all = [...vocabulary.attributes.keys()].map((attribute, id) => ({ id, name: attribute }));
  const near = nearNames(said, all).map((attribute) => `*${attribute.name}*`);
  throw new KindRefusal(
    'not found',
    `“${mrkdwn(said)}” is no attribute I know.${near.length > 0 ? ` Nearest: ${near.join(', ')}.` : ''}`,
    'Tap “Teach a word” in `/spoon words` to choose from all of them.',
    'attribute',
  );
}

/** The row that teaches these words here, or null. */
export async function findTaught(
  db: DbOrTransaction,
  workspace: string,
  folded: string,
): Promise<HouseWord | null> {
  const taught = await listHouseWords(db, workspace);
  return taught.find((word) => foldWords(word.words) === folded) ?? null;
}

/** What words mean in this house, with who taught it. */
export async function wordShown(db: DbOrTransaction, workspace: string, words: string): Promise<WordShown> {
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
  for (const { name, family } of vocabulary.attributes.values()) {
    families.set(family, [...(families.get(family) ?? []), name]);
  }
  return [...families].map(([family, attributes]) => ({ family, attributes }));
}

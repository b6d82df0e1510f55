import type { DbOrTransaction } from './db.js';
import { prepared } from './prepared.js';

/** What a word means in this house: `words` as folded for reading, `attribute` as the vocabulary names it. */
export type HouseWord = {
  readonly words: string;
  readonly attribute: string;
  readonly by: string;
  readonly at: Date;
};

const ofHouse = prepared<{ readonly workspace: string }>()((db, given) =>
  db.selectFrom('house_word').selectAll().where('workspace', '=', given('workspace')).orderBy('words'),
);

/** The words this house has taught, in alphabetical order. */
export async function listHouseWords(db: DbOrTransaction, workspace: string): Promise<readonly HouseWord[]> {
  const rows = await ofHouse(db, { workspace });
  return rows.map((row) => ({
    words: row.words,
    attribute: row.attribute,
    by: row.by,
    at: new Date(row.at),
  }));
}

/** Teaches a word, or replaces what it meant here. */
export async function saveHouseWord(
  db: DbOrTransaction,
  word: HouseWord & { readonly workspace: string },
): Promise<void> {
  const meaning = { attribute: word.attribute, by: word.by, at: word.at.toISOString() };
  await db
    .insertInto('house_word')
    .values({ workspace: word.workspace, words: word.words, ...meaning })
    .onConflict((conflict) => conflict.columns(['workspace', 'words']).doUpdateSet(meaning))
    .execute();
}

/** Forgets a word; false when it was not taught here. */
export async function forgetHouseWord(
  db: DbOrTransaction,
  workspace: string,
  words: string,
): Promise<boolean> {
  const result = await db
    .deleteFrom('house_word')
    .where('workspace', '=', workspace)
    .where('words', '=', words)
    .executeTakeFirst();
  return result.numDeletedRows === 1n;
}

import { z } from 'zod';
import { DEFAULT_HOUSE, FACT_NAMES, type FactName, HouseFacts } from '../domain/house/house-facts.js';
import type { Db } from './db.js';

/**
 * The facts of a house: what it has told, and the default for everything else. It never fails: a stored
 * fact that no longer fits (written by an older version) falls back to its default and the others stay.
 */
export async function loadHouse(db: Db, workspace: string): Promise<HouseFacts> {
  const told = await readTold(db, workspace);
  const whole = HouseFacts.safeParse(told);
  if (whole.success) return whole.data;
  const fitting = Object.entries(told).filter(
    ([name, value]) => HouseFacts.partial().safeParse({ [name]: value }).success,
  );
  return HouseFacts.catch(DEFAULT_HOUSE).parse(Object.fromEntries(fitting));
}

/** Which facts the house has told itself; all others are defaults. */
export async function listToldFacts(db: Db, workspace: string): Promise<ReadonlySet<FactName>> {
  const told = await readTold(db, workspace);
  return new Set(FACT_NAMES.filter((name) => Object.hasOwn(told, name)));
}

/** Keeps the facts that are given, beside those told before; one that is undefined has its default again. */
export async function saveHouse(
  db: Db,
  workspace: string,
  facts: { readonly [Name in FactName]?: HouseFacts[Name] | undefined },
  who: string,
  at: Date,
): Promise<void> {
  const told = { ...(await readTold(db, workspace)), ...facts };
  const row = { facts_json: JSON.stringify(told), updated_at: at.toISOString(), updated_by: who };
  await db
    .insertInto('house')
    .values({ workspace, ...row })
    .onConflict((conflict) => conflict.column('workspace').doUpdateSet(row))
    .execute();
}

async function readTold(db: Db, workspace: string): Promise<Readonly<Record<string, unknown>>> {
  const row = await db
    .selectFrom('house')
    .select('facts_json')
    .where('workspace', '=', workspace)
    .executeTakeFirst();
  try {
    return z.record(z.string(), z.unknown()).parse(JSON.parse(row?.facts_json ?? '{}'));
  } catch {
    return {};
  }
}

/** What a word means in this house: `words` as folded for reading, `attribute` as the vocabulary names it. */
export type HouseWord = {
  readonly words: string;
  readonly attribute: string;
  readonly by: string;
  readonly at: Date;
};

/** The words this house has taught, in alphabetical order. */
export async function listHouseWords(db: Db, workspace: string): Promise<readonly HouseWord[]> {
  const rows = await db
    .selectFrom('house_word')
    .select(['words', 'attribute', 'by', 'at'])
    .where('workspace', '=', workspace)
    .orderBy('words')
    .execute();
  return rows.map((row) => ({ ...row, at: new Date(row.at) }));
}

/** Teaches a word, or replaces what it meant here. */
export async function saveHouseWord(db: Db, word: HouseWord & { readonly workspace: string }): Promise<void> {
  const meaning = { attribute: word.attribute, by: word.by, at: word.at.toISOString() };
  await db
    .insertInto('house_word')
    .values({ workspace: word.workspace, words: word.words, ...meaning })
    .onConflict((conflict) => conflict.columns(['workspace', 'words']).doUpdateSet(meaning))
    .execute();
}

/** Forgets a word; false when it was not taught here. */
export async function forgetHouseWord(db: Db, workspace: string, words: string): Promise<boolean> {
  const result = await db
    .deleteFrom('house_word')
    .where((eb) => eb.and({ workspace, words }))
    .executeTakeFirst();
  return result.numDeletedRows === 1n;
}

import { DEFAULT_HOUSE, type FactName, HouseFacts } from '../domain/house/house-facts.js';
import { remembered } from '../domain/measure/remembered.js';
import type { DbOrTransaction } from './db.js';
import { prepared } from './prepared.js';

const FACT_NAMES = HouseFacts.keyof();

/**
 * The facts of a house: what it has told, and the default for everything else. It never fails: a stored
 * fact that no longer fits (written by an older version) falls back to its default and the others stay.
 */
export async function loadHouse(db: DbOrTransaction, workspace: string): Promise<HouseFacts> {
  const text = await readText(db, workspace);
  return factsIn(text, () => readFacts(parseObject(text)));
}

/** Every command needs the facts, and they seldom change. */
const factsIn = remembered<HouseFacts>(100);

function readFacts(told: Readonly<Record<string, unknown>>): HouseFacts {
  const whole = HouseFacts.safeParse(told);
  if (whole.success) return whole.data;
  const fitting = Object.entries(told).filter(
    ([name, value]) => HouseFacts.partial().safeParse({ [name]: value }).success,
  );
  return HouseFacts.catch(DEFAULT_HOUSE).parse(Object.fromEntries(fitting));
}

/** Which facts the house has told itself; all others are defaults. */
export async function listToldFacts(db: DbOrTransaction, workspace: string): Promise<ReadonlySet<FactName>> {
  const names = Object.keys(await readTold(db, workspace));
  return new Set(names.flatMap((name) => FACT_NAMES.safeParse(name).data ?? []));
}

/** Keeps the facts that are given, beside those told before. */
export async function saveHouse(
  db: DbOrTransaction,
  workspace: string,
  facts: Partial<HouseFacts>,
  who: string,
  at: Date,
): Promise<void> {
  const told = { ...(await readTold(db, workspace)), ...facts };
  await writeTold(db, workspace, told, who, at);
}

/** Forgets what was told about one fact, so that its default holds again. */
export async function resetFact(
  db: DbOrTransaction,
  workspace: string,
  name: FactName,
  who: string,
  at: Date,
): Promise<void> {
  const { [name]: _forgotten, ...kept } = await readTold(db, workspace);
  await writeTold(db, workspace, kept, who, at);
}

async function writeTold(
  db: DbOrTransaction,
  workspace: string,
  told: Readonly<Record<string, unknown>>,
  who: string,
  at: Date,
): Promise<void> {
  const row = { facts_json: JSON.stringify(told), updated_at: at.toISOString(), updated_by: who };
  await db
    .insertInto('house')
    .values({ workspace, ...row })
    .onConflict((conflict) => conflict.column('workspace').doUpdateSet(row))
    .execute();
}

async function readTold(db: DbOrTransaction, workspace: string): Promise<Readonly<Record<string, unknown>>> {
  return parseObject(await readText(db, workspace));
}

const textOf = prepared<{ readonly workspace: string }>()((db, given) =>
  db.selectFrom('house').select('facts_json').where('workspace', '=', given('workspace')),
);

async function readText(db: DbOrTransaction, workspace: string): Promise<string> {
  const [row] = await textOf(db, { workspace });
  return row?.facts_json ?? '{}';
}

function parseObject(text: string): Readonly<Record<string, unknown>> {
  const stored: unknown = parseJson(text);
  return typeof stored === 'object' && stored !== null && !Array.isArray(stored) ? { ...stored } : {};
}

function parseJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return {};
  }
}

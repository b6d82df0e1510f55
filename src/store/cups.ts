import { z } from 'zod';
import type { Cup, CupPart } from '../domain/record/tasting.js';
import type { Db } from './db.js';

const Parts = z.array(
  z
    .object({ coffee: z.number().int(), parts: z.number().int().positive() })
    .transform(({ coffee, parts }) => ({ coffeeId: coffee, parts })),
);

/** Cups in table order; dropped ones only when asked for. */
export async function listCups(db: Db, tastingId: number, withDropped = false): Promise<readonly Cup[]> {
  const rows = await db
    .selectFrom('cup')
    .select(['id', 'tasting_id as tastingId', 'position', 'label', 'code', 'kind'])
    .select(['coffee_id', 'parts_json', 'dropped_at'])
    .where('tasting_id', '=', tastingId)
    .$if(!withDropped, (query) => query.where('dropped_at', 'is', null))
    .orderBy('position')
    .execute();
  return rows.map(({ coffee_id, parts_json, dropped_at, ...row }) => ({
    ...row,
    parts:
      coffee_id === null ? Parts.parse(JSON.parse(parts_json ?? '[]')) : [{ coffeeId: coffee_id, parts: 1 }],
    droppedAt: dropped_at === null ? null : new Date(dropped_at),
  }));
}

export type NewCup = Omit<Cup, 'id' | 'droppedAt'> & {
  readonly workspace: string;
  readonly at: Date;
  readonly by: string;
};

/** Adds a cup; a component holds exactly one coffee. */
export async function insertCup(db: Db, cup: NewCup): Promise<number> {
  const { id } = await db
    .insertInto('cup')
    .values({
      workspace: cup.workspace,
      tasting_id: cup.tastingId,
      position: cup.position,
      label: cup.label,
      code: cup.code,
      kind: cup.kind,
      ...partColumns(cup),
      scooped: cup.kind === 'pour' ? 1 : 0,
      dropped_at: null,
      created_at: cup.at.toISOString(),
      created_by: cup.by,
    })
    .returning('id')
    .executeTakeFirstOrThrow();
  return id;
}

/** Takes cups off a table; they stay in its history. */
export async function dropCups(
  db: Db,
  workspace: string,
  cupIds: readonly number[],
  at: Date,
): Promise<void> {
  if (cupIds.length === 0) return;
  await db
    .updateTable('cup')
    .set({ dropped_at: at.toISOString() })
    .where('workspace', '=', workspace)
    .where('id', 'in', cupIds)
    .where('dropped_at', 'is', null)
    .execute();
}

/** Puts another coffee in the place of one, in every cup of a table that stands. */
export async function swapCoffee(
  db: Db,
  workspace: string,
  tastingId: number,
  from: number,
  to: number,
): Promise<void> {
  for (const cup of await listCups(db, tastingId)) {
    if (!cup.parts.some((part) => part.coffeeId === from)) continue;
    const parts = cup.parts.map((part) => (part.coffeeId === from ? { ...part, coffeeId: to } : part));
    await db
      .updateTable('cup')
      .set(partColumns({ kind: cup.kind, parts }))
      .where((eb) => eb.and({ workspace, id: cup.id }))
      .execute();
  }
}

/** Codes of the workspace's latest blind table, so that the next one uses others. */
export async function lastCodes(db: Db, workspace: string): Promise<readonly string[]> {
  const last = await db
    .selectFrom('cup')
    .select((eb) => eb.fn.max('tasting_id').as('id'))
    .where('workspace', '=', workspace)
    .where('code', 'is not', null)
    .executeTakeFirst();
  if (!last?.id) return [];
  const rows = await db.selectFrom('cup').select('code').where('tasting_id', '=', last.id).execute();
  return rows.flatMap((row) => row.code ?? []);
}

/**
 * How many tasters named each attribute for each coffee tasted alone, over closed tables: coffee id →
 * attribute → tasters, once per taster and table. Open tables are left out: nothing of them is told early.
 */
export async function coffeeProfiles(
  db: Db,
  workspace: string,
): Promise<ReadonlyMap<number, ReadonlyMap<string, number>>> {
  const rows = await db
    .selectFrom('mention')
    .innerJoin('note', 'note.id', 'mention.note_id')
    .innerJoin('cup', 'cup.id', 'mention.cup_id')
    .innerJoin('tasting', 'tasting.id', 'note.tasting_id')
    .select(['cup.coffee_id', 'mention.attribute', 'note.person', 'tasting.id as tasting'])
    .distinct()
    .where('note.workspace', '=', workspace)
    .where('tasting.state', 'in', ['closed', 'decided'])
    .where('cup.kind', '=', 'component')
    .where('mention.polarity', '=', 'present')
    .where('note.deleted_at', 'is', null)
    .where('note.late', '=', 0)
    .execute();
  const profiles = new Map<number, Map<string, number>>();
  for (const row of rows) {
    if (row.coffee_id === null) continue;
    const profile = profiles.get(row.coffee_id) ?? new Map<string, number>();
    profile.set(row.attribute, (profile.get(row.attribute) ?? 0) + 1);
    profiles.set(row.coffee_id, profile);
  }
  return profiles;
}

/** A component names its coffee; every other cup has parts, `[{"coffee": id, "parts": n}]`. */
function partColumns(cup: { readonly kind: Cup['kind']; readonly parts: readonly CupPart[] }) {
  if (cup.kind === 'component') return { coffee_id: cup.parts[0]?.coffeeId ?? null, parts_json: null };
  const parts = cup.parts.map((part) => ({ coffee: part.coffeeId, parts: part.parts }));
  return { coffee_id: null, parts_json: JSON.stringify(parts) };
}

import type { InferResult } from 'kysely';
import { z } from 'zod';
import { type Coffee, PROCESSES } from '../domain/record/coffee.js';
import type { Db } from './db.js';

const ProcessColumn = z.enum(PROCESSES).nullable();

/** Everything the roastery knows of a coffee but its id. */
export type CoffeeFacts = Omit<Coffee, 'id'>;

/** Coffees in use, by name; archived ones are left out. */
export async function listCoffees(db: Db, workspace: string): Promise<readonly Coffee[]> {
  const rows = await inWorkspace(db, workspace).where('archived_at', 'is', null).execute();
  return rows.map(toCoffee).sort((a, b) => a.name.localeCompare(b.name, 'en') || a.id - b.id);
}

/** The coffee with this id in its own workspace, archived or not, or null. */
export async function findCoffee(db: Db, workspace: string, id: number): Promise<Coffee | null> {
  const row = await inWorkspace(db, workspace).where('id', '=', id).executeTakeFirst();
  return row ? toCoffee(row) : null;
}

/** Coffees by id, archived ones too: what a tasting of last year was made of. Unknown ids are left out. */
export async function coffeesById(
  db: Db,
  workspace: string,
  ids: readonly number[],
): Promise<ReadonlyMap<number, Coffee>> {
  if (ids.length === 0) return new Map();
  const rows = await inWorkspace(db, workspace).where('id', 'in', ids).execute();
  return new Map(rows.map((row) => [row.id, toCoffee(row)]));
}

/**
 * Adds a coffee and returns its id.
 *
 * @throws when a coffee in use already has that name (a unique index, whatever the case of its letters)
 */
export async function insertCoffee(
  db: Db,
  coffee: CoffeeFacts & { readonly workspace: string; readonly who: string; readonly at: Date },
): Promise<number> {
  const { id } = await db
    .insertInto('coffee')
    .values({
      workspace: coffee.workspace,
      ...toColumns(coffee),
      archived_at: null,
      created_at: coffee.at.toISOString(),
      created_by: coffee.who,
    })
    .returning('id')
    .executeTakeFirstOrThrow();
  return id;
}

/** Replaces the facts of a coffee. */
export async function updateCoffee(db: Db, workspace: string, coffee: Coffee): Promise<void> {
  await db
    .updateTable('coffee')
    .set(toColumns(coffee))
    .where((eb) => eb.and({ workspace, id: coffee.id }))
    .execute();
}

/** Takes a coffee out of use; its history and its lots stay. */
export async function archiveCoffee(db: Db, workspace: string, id: number, at: Date): Promise<void> {
  await db
    .updateTable('coffee')
    .set({ archived_at: at.toISOString() })
    .where((eb) => eb.and({ workspace, id, archived_at: null }))
    .execute();
}

function inWorkspace(db: Db, workspace: string) {
  return db
    .selectFrom('coffee')
    .select(['id', 'name', 'origin', 'process', 'role', 'level', 'sold_alone', 'screen', 'colour', 'remarks'])
    .select(['loss_bp as lossBp', 'green_price_cents as greenPriceCents', 'green_mg as greenMg'])
    .select(['moisture_bp as moistureBp', 'density_g_per_l as densityGPerL', 'flavour_added as flavourAdded'])
    .where('workspace', '=', workspace);
}

function toColumns(coffee: CoffeeFacts) {
  return {
    name: coffee.name,
    origin: coffee.origin,
    process: coffee.process,
    role: coffee.role,
    level: coffee.level,
    sold_alone: coffee.soldAlone ? 1 : 0,
    loss_bp: coffee.lossBp,
    green_price_cents: coffee.greenPriceCents,
    green_mg: coffee.greenMg,
    moisture_bp: coffee.moistureBp,
    density_g_per_l: coffee.densityGPerL,
    screen: coffee.screen,
    colour: coffee.colour,
    flavour_added: coffee.flavourAdded,
    remarks: coffee.remarks,
  };
}

function toCoffee({
  sold_alone,
  process,
  ...row
}: InferResult<ReturnType<typeof inWorkspace>>[number]): Coffee {
  return { ...row, process: ProcessColumn.parse(process), soldAlone: sold_alone === 1 };
}

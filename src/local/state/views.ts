import { z } from 'zod';
import { FormValues, JsonObject } from '../api-types.js';
import { type Db, row, rows, run } from './database.js';
import { storedJson } from './stored-json.js';

const Row = z
  .object({
    id: z.string(),
    person: z.string(),
    kind: z.enum(['modal', 'home']),
    position: z.number(),
    root_id: z.string(),
    previous_id: z.string().nullable(),
    external_id: z.string().nullable(),
    hash: z.string(),
    definition: storedJson(JsonObject),
    typed: storedJson(FormValues),
    errors: storedJson(z.record(z.string(), z.string())).nullable(),
    notice: z.string().nullable(),
  })
  .transform(({ root_id, previous_id, external_id, ...one }) => ({
    ...one,
    rootId: root_id,
    previousId: previous_id,
    externalId: external_id,
  }));
const Found = Row.optional();

/** An open form or a published home tab, and what its person has typed into it. */
export type StoredView = Readonly<z.infer<typeof Row>>;

export function findView(db: Db, id: string): StoredView | undefined {
  return Found.parse(row(db, 'select * from view where id = ?', id));
}

export function findViewByExternalId(db: Db, externalId: string): StoredView | undefined {
  return Found.parse(row(db, 'select * from view where external_id = ?', externalId));
}

/** A person's open forms, the top one last. */
export function openModals(db: Db, person: string): readonly StoredView[] {
  return rows(db, "select * from view where person = ? and kind = 'modal' order by position", person).map(
    (one) => Row.parse(one),
  );
}

export function findHome(db: Db, person: string): StoredView | undefined {
  return Found.parse(row(db, "select * from view where person = ? and kind = 'home'", person));
}

/** Keeps a view, new or changed. */
export function saveView(db: Db, view: StoredView): void {
  run(
    db,
    `insert into view (id, person, kind, position, root_id, previous_id, external_id, hash, definition, typed, errors,
      notice) values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
      on conflict (id) do update set external_id = excluded.external_id, hash = excluded.hash,
        definition = excluded.definition, typed = excluded.typed, errors = excluded.errors, notice = excluded.notice`,
    view.id,
    view.person,
    view.kind,
    view.position,
    view.rootId,
    view.previousId,
    view.externalId,
    view.hash,
    JSON.stringify(view.definition),
    JSON.stringify(view.typed),
    view.errors === null ? null : JSON.stringify(view.errors),
    view.notice,
  );
}

export function deleteView(db: Db, id: string): void {
  run(db, 'delete from view where id = ?', id);
}

export function deleteModals(db: Db, person: string): void {
  run(db, "delete from view where person = ? and kind = 'modal'", person);
}

const Typed = z.object({ typed: storedJson(FormValues) }).optional();

/** What a person has picked in the selects of a message. */
export function messageInput(db: Db, person: string, channel: string, ts: string): FormValues {
  const found = row(
    db,
    'select typed from message_input where person = ? and channel = ? and ts = ?',
    person,
    channel,
    ts,
  );
  return Typed.parse(found)?.typed ?? {};
}

export function saveMessageInput(
  db: Db,
  person: string,
  channel: string,
  ts: string,
  typed: FormValues,
): void {
  run(
    db,
    `insert into message_input (person, channel, ts, typed) values (?, ?, ?, ?)
      on conflict (person, channel, ts) do update set typed = excluded.typed`,
    person,
    channel,
    ts,
    JSON.stringify(typed),
  );
}

import { z } from 'zod';
import { FormValues, JsonObject } from '../api-types.js';
import { type Db, row, rows, run, save, storedJson } from './database.js';

const Row = z.object({
  id: z.string(),
  person: z.string(),
  kind: z.enum(['modal', 'home']),
  position: z.number(),
  rootId: z.string(),
  previousId: z.string().nullable(),
  hash: z.string(),
  definition: storedJson(JsonObject),
  typed: storedJson(FormValues),
  errors: storedJson(z.record(z.string(), z.string())).nullable(),
  notice: z.string().nullable(),
});
const Found = Row.optional();

/** An open form or a published home tab, and what its person has typed into it. */
export type StoredView = Readonly<z.infer<typeof Row>>;

export function findView(db: Db, id: string): StoredView | undefined {
  return row(db, Found, 'select * from view where id = ?', id);
}

/** A person's open forms, the top one last. */
export function openModals(db: Db, person: string): readonly StoredView[] {
  return rows(db, Row, "select * from view where person = ? and kind = 'modal' order by position", person);
}

export function findHome(db: Db, person: string): StoredView | undefined {
  return row(db, Found, "select * from view where person = ? and kind = 'home'", person);
}

/** Keeps a view, new or changed. */
export function saveView(db: Db, view: StoredView): StoredView {
  save(db, 'view', ['id'], view);
  return view;
}

export function deleteView(db: Db, id: string): void {
  run(db, 'delete from view where id = ?', id);
}

export function deleteModals(db: Db, person: string): void {
  run(db, "delete from view where person = ? and kind = 'modal'", person);
}

const Typed = z.object({ typed: storedJson(FormValues) }).optional();
type MessagePlace = { readonly channel: string; readonly ts: string };

/** What a person has picked in the selects of a message. */
export function messageInput(db: Db, person: string, { channel, ts }: MessagePlace): FormValues {
  const picked = 'select typed from message_input where person = ? and channel = ? and ts = ?';
  return row(db, Typed, picked, person, channel, ts)?.typed ?? {};
}

export function saveMessageInput(
  db: Db,
  person: string,
  { channel, ts }: MessagePlace,
  typed: FormValues,
): void {
  save(db, 'message_input', ['person', 'channel', 'ts'], { person, channel, ts, typed });
}

import { z } from 'zod';
import { type Db, row, run } from './database.js';

const Row = z
  .object({
    id: z.string(),
    person: z.string(),
    channel: z.string(),
    message_ts: z.string().nullable(),
    uses: z.number(),
    expires_at: z.number(),
  })
  .transform(({ message_ts, expires_at, ...one }) => ({
    ...one,
    messageTs: message_ts,
    expiresAt: expires_at,
  }));
const Found = Row.optional();

export type ResponseUrl = Readonly<z.infer<typeof Row>>;

export function findResponseUrl(db: Db, id: string): ResponseUrl | undefined {
  return Found.parse(row(db, 'select * from response_url where id = ?', id));
}

export function addResponseUrl(db: Db, url: ResponseUrl): void {
  run(
    db,
    'insert into response_url (id, person, channel, message_ts, uses, expires_at) values (?, ?, ?, ?, ?, ?)',
    url.id,
    url.person,
    url.channel,
    url.messageTs,
    url.uses,
    url.expiresAt,
  );
}

export function countUse(db: Db, id: string): void {
  run(db, 'update response_url set uses = uses + 1 where id = ?', id);
}

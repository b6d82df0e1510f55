import { z } from 'zod';
import { type Db, row, run, save } from './database.js';

const Row = z.object({
  id: z.string(),
  person: z.string(),
  channel: z.string(),
  uses: z.number(),
  expiresAt: z.number(),
});
const Found = Row.optional();

export type ResponseUrl = Readonly<z.infer<typeof Row>>;

export function findResponseUrl(db: Db, id: string): ResponseUrl | undefined {
  return row(db, Found, 'select * from response_url where id = ?', id);
}

export function addResponseUrl(db: Db, url: ResponseUrl): void {
  save(db, 'response_url', ['id'], url);
}

export function countUse(db: Db, id: string): void {
  run(db, 'update response_url set uses = uses + 1 where id = ?', id);
}

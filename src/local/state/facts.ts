import { z } from 'zod';
import { type Db, row, run } from './database.js';

const Row = z.object({ value: z.string() }).optional();

/** One kept fact (an id, a secret, the clock's offset), or nothing. */
export function readFact(db: Db, key: string): string | undefined {
  return Row.parse(row(db, 'select value from fact where key = ?', key))?.value;
}

export function writeFact(db: Db, key: string, value: string): void {
  run(
    db,
    'insert into fact (key, value) values (?, ?) on conflict (key) do update set value = excluded.value',
    key,
    value,
  );
}

/** The kept fact, made and kept the first time. */
export function factOr(db: Db, key: string, make: () => string): string {
  const known = readFact(db, key);
  if (known !== undefined) return known;
  const made = make();
  writeFact(db, key, made);
  return made;
}

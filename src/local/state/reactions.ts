import { z } from 'zod';
import { type Db, rows, run } from './database.js';

const Row = z.object({ name: z.string(), person: z.string() });

export type Reactions = { name: string; users: string[] }[];

/** Reactions on a message in the order in which each name first came. */
export function reactionsOn(db: Db, channel: string, ts: string): Reactions {
  const found = rows(
    db,
    'select name, person from reaction where channel = ? and ts = ? order by at',
    channel,
    ts,
  );
  const byName = new Map<string, string[]>();
  for (const one of found) {
    const { name, person } = Row.parse(one);
    byName.set(name, [...(byName.get(name) ?? []), person]);
  }
  return [...byName].map(([name, users]) => ({ name, users }));
}

/** True when it was not there before. */
export function addReaction(
  db: Db,
  channel: string,
  ts: string,
  name: string,
  person: string,
  at: number,
): boolean {
  return (
    run(
      db,
      'insert or ignore into reaction (channel, ts, name, person, at) values (?, ?, ?, ?, ?)',
      channel,
      ts,
      name,
      person,
      at,
    ) > 0
  );
}

/** True when it was there before. */
export function removeReaction(db: Db, channel: string, ts: string, name: string, person: string): boolean {
  return (
    run(
      db,
      'delete from reaction where channel = ? and ts = ? and name = ? and person = ?',
      channel,
      ts,
      name,
      person,
    ) > 0
  );
}

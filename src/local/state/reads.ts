import { z } from 'zod';
import { type Db, rows, run } from './database.js';

const Row = z.object({ id: z.string(), unread: z.number() });

/** Messages of others, in each of the person's channels, after the last one they read. */
export function unreadOf(db: Db, person: string): { id: string; unread: number }[] {
  return rows(
    db,
    `select member.channel as id, (
        select count(*) from message
        where message.channel = member.channel and message.state = 'live'
          and (message.ephemeral_to is null or message.ephemeral_to = member.person)
          and message.person is not member.person and message.ts > coalesce(read_mark.ts, '')
      ) as unread
      from member left join read_mark on read_mark.person = member.person and read_mark.channel = member.channel
      where member.person = ?`,
    person,
  ).map((one) => Row.parse(one));
}

/** Keeps the furthest ts a person has read. */
export function markRead(db: Db, person: string, channel: string, ts: string): void {
  run(
    db,
    `insert into read_mark (person, channel, ts) values (?, ?, ?)
      on conflict (person, channel) do update set ts = max(ts, excluded.ts)`,
    person,
    channel,
    ts,
  );
}

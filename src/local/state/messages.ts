import { z } from 'zod';
import { JsonObject } from '../api-types.js';
import { type Db, flag, row, rows, run, save, storedJson } from './database.js';

const Row = z.object({
  channel: z.string(),
  ts: z.string(),
  person: z.string().nullable(),
  botId: z.string().nullable(),
  subtype: z.string().nullable(),
  text: z.string(),
  blocks: storedJson(z.array(JsonObject)),
  threadTs: z.string().nullable(),
  broadcast: flag,
  editedTs: z.string().nullable(),
  editedBy: z.string().nullable(),
  state: z.enum(['live', 'deleted', 'tombstone']),
  metadata: storedJson(JsonObject).nullable(),
  files: storedJson(z.array(z.string())),
  ephemeralTo: z.string().nullable(),
  clientMsgId: z.string().nullable(),
});
const Found = Row.optional();

/** A message as the workspace keeps it; text is escaped as Slack escapes it. */
export type StoredMessage = Readonly<z.infer<typeof Row>>;

/** A new message; the table fills in the parts that most messages leave empty. */
export type NewMessage = Pick<StoredMessage, 'channel' | 'ts' | 'person' | 'text'> & Partial<StoredMessage>;

export function insertMessage(db: Db, given: NewMessage): StoredMessage {
  save(db, 'message', ['channel', 'ts'], given);
  return row(db, Row, 'select * from message where channel = ? and ts = ?', given.channel, given.ts);
}

/** A message that has not been deleted; a tombstone still holds its thread. */
export function findMessage(db: Db, channel: string, ts: string): StoredMessage | undefined {
  const live = "select * from message where channel = ? and ts = ? and state <> 'deleted'";
  return row(db, Found, live, channel, ts);
}

/** Writes a changed message over what it was. */
export function rewriteMessage(db: Db, message: StoredMessage): void {
  save(db, 'message', ['channel', 'ts'], message);
}

const Replies = z.object({ count: z.number(), latest: z.string().nullable() });

/** How many visible replies a message has, and the newest one's ts. */
export function repliesOf(db: Db, channel: string, ts: string): Readonly<z.output<typeof Replies>> {
  return row(
    db,
    Replies,
    `select count(*) as count, max(ts) as latest from message
      where channel = ? and thread_ts = ? and ts <> ? and state = 'live' and ephemeral_to is null`,
    channel,
    ts,
    ts,
  );
}

/** Top-level messages and broadcast replies, oldest first; ephemeral ones only for their reader. */
export function channelMessages(db: Db, channel: string, reader: string | null): readonly StoredMessage[] {
  return rows(
    db,
    Row,
    `select * from message where channel = ? and state <> 'deleted'
      and (thread_ts is null or thread_ts = ts or broadcast = 1) and (ephemeral_to is null or ephemeral_to = ?) order by ts`,
    channel,
    reader,
  );
}

/** A thread's parent and replies, oldest first; ephemeral ones only for their reader. */
export function threadMessages(
  db: Db,
  channel: string,
  ts: string,
  reader: string | null,
): readonly StoredMessage[] {
  return rows(
    db,
    Row,
    `select * from message where channel = ? and (ts = ? or thread_ts = ?) and state <> 'deleted'
      and (ephemeral_to is null or ephemeral_to = ?) order by ts`,
    channel,
    ts,
    ts,
    reader,
  );
}

const Newest = z.object({ newest: z.string().nullable() });

/** The latest ts ever given out here, deleted messages and edits included. */
export function newestTs(db: Db): string | null {
  const both =
    'select max(t) as newest from (select max(ts) as t from message union all select max(edited_ts) from message)';
  return row(db, Newest, both).newest;
}

const Reaction = z.object({ name: z.string(), person: z.string() });

/** Reactions on a message in the order in which each name first came. */
export function reactionsOn(db: Db, channel: string, ts: string): { name: string; users: string[] }[] {
  const byName = new Map<string, string[]>();
  const inOrder = 'select name, person from reaction where channel = ? and ts = ? order by at';
  for (const { name, person } of rows(db, Reaction, inOrder, channel, ts)) {
    byName.set(name, [...(byName.get(name) ?? []), person]);
  }
  return [...byName].map(([name, users]) => ({ name, users }));
}

type MessagePlace = Pick<StoredMessage, 'channel' | 'ts'>;

/** True when it was not there before; `at` in milliseconds orders the names. */
export function addReaction(
  db: Db,
  { channel, ts }: MessagePlace,
  name: string,
  person: string,
  at: number,
): boolean {
  const once = 'insert or ignore into reaction (channel, ts, name, person, at) values (?, ?, ?, ?, ?)';
  return run(db, once, channel, ts, name, person, at) > 0;
}

/** True when it was there before. */
export function removeReaction(db: Db, { channel, ts }: MessagePlace, name: string, person: string): boolean {
  const one = 'delete from reaction where channel = ? and ts = ? and name = ? and person = ?';
  return run(db, one, channel, ts, name, person) > 0;
}

const Unread = z.object({ id: z.string(), unread: z.number() });

/** Messages of others, in each of the person's channels, after the last one they read. */
export function unreadOf(db: Db, person: string): z.output<typeof Unread>[] {
  return rows(
    db,
    Unread,
    `select member.channel as id, (
        select count(*) from message
        where message.channel = member.channel and message.state = 'live'
          and (message.ephemeral_to is null or message.ephemeral_to = member.person)
          and message.person is not member.person and message.ts > coalesce(read_mark.ts, '')
      ) as unread
      from member left join read_mark on read_mark.person = member.person and read_mark.channel = member.channel
      where member.person = ?`,
    person,
  );
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

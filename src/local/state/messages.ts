import { z } from 'zod';
import { JsonObject } from '../api-types.js';
import { type Db, row, rows, run } from './database.js';
import { storedJson } from './stored-json.js';

const Row = z
  .object({
    channel: z.string(),
    ts: z.string(),
    person: z.string().nullable(),
    bot_id: z.string().nullable(),
    subtype: z.string().nullable(),
    text: z.string(),
    blocks: storedJson(z.array(JsonObject)),
    thread_ts: z.string().nullable(),
    broadcast: z.number(),
    edited_ts: z.string().nullable(),
    edited_by: z.string().nullable(),
    state: z.enum(['live', 'deleted', 'tombstone']),
    metadata: storedJson(JsonObject).nullable(),
    files: storedJson(z.array(z.string())),
    ephemeral_to: z.string().nullable(),
    client_msg_id: z.string().nullable(),
  })
  .transform((one) => ({
    channel: one.channel,
    ts: one.ts,
    user: one.person,
    botId: one.bot_id,
    subtype: one.subtype,
    text: one.text,
    blocks: one.blocks,
    threadTs: one.thread_ts,
    broadcast: one.broadcast === 1,
    editedTs: one.edited_ts,
    editedBy: one.edited_by,
    state: one.state,
    metadata: one.metadata,
    files: one.files,
    ephemeralTo: one.ephemeral_to,
    clientMsgId: one.client_msg_id,
  }));
const Found = Row.optional();

/** A message as the workspace keeps it; text is escaped as Slack escapes it. */
export type StoredMessage = Readonly<z.infer<typeof Row>>;

/** A new message before the parts that most messages leave empty. */
export type NewMessage = Pick<StoredMessage, 'channel' | 'ts' | 'user' | 'text'> & Partial<StoredMessage>;

export function insertMessage(db: Db, given: NewMessage): StoredMessage {
  const message: StoredMessage = {
    botId: null,
    subtype: null,
    blocks: [],
    threadTs: null,
    broadcast: false,
    editedTs: null,
    editedBy: null,
    state: 'live',
    metadata: null,
    files: [],
    ephemeralTo: null,
    clientMsgId: null,
    ...given,
  };
  run(
    db,
    `insert into message (channel, ts, person, bot_id, subtype, text, blocks, thread_ts, broadcast, metadata, files,
      ephemeral_to, client_msg_id) values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
    message.channel,
    message.ts,
    message.user,
    message.botId,
    message.subtype,
    message.text,
    JSON.stringify(message.blocks),
    message.threadTs,
    message.broadcast ? 1 : 0,
    message.metadata === null ? null : JSON.stringify(message.metadata),
    JSON.stringify(message.files),
    message.ephemeralTo,
    message.clientMsgId,
  );
  return message;
}

/** A message that has not been deleted; a tombstone still holds its thread. */
export function findMessage(db: Db, channel: string, ts: string): StoredMessage | undefined {
  return Found.parse(
    row(db, "select * from message where channel = ? and ts = ? and state <> 'deleted'", channel, ts),
  );
}

/** Writes what an edit changes. */
export function rewriteMessage(db: Db, message: StoredMessage): void {
  run(
    db,
    `update message set text = ?, blocks = ?, metadata = ?, edited_ts = ?, edited_by = ?, state = ?, subtype = ?
      where channel = ? and ts = ?`,
    message.text,
    JSON.stringify(message.blocks),
    message.metadata === null ? null : JSON.stringify(message.metadata),
    message.editedTs,
    message.editedBy,
    message.state,
    message.subtype,
    message.channel,
    message.ts,
  );
}

const Replies = z.object({ replies: z.number(), latest: z.string().nullable() });

/** How many visible replies a message has, and the newest one's ts. */
export function repliesOf(
  db: Db,
  channel: string,
  ts: string,
): { readonly count: number; readonly latest: string | null } {
  const found = Replies.parse(
    row(
      db,
      `select count(*) as replies, max(ts) as latest from message
        where channel = ? and thread_ts = ? and ts <> ? and state = 'live' and ephemeral_to is null`,
      channel,
      ts,
      ts,
    ),
  );
  return { count: found.replies, latest: found.latest };
}

/** Top-level messages and broadcast replies, oldest first; ephemeral ones only for their reader. */
export function channelMessages(db: Db, channel: string, reader: string | null): readonly StoredMessage[] {
  return rows(
    db,
    `select * from message where channel = ? and state <> 'deleted'
      and (thread_ts is null or thread_ts = ts or broadcast = 1) and (ephemeral_to is null or ephemeral_to = ?) order by ts`,
    channel,
    reader,
  ).map((one) => Row.parse(one));
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
    `select * from message where channel = ? and (ts = ? or thread_ts = ?) and state <> 'deleted'
      and (ephemeral_to is null or ephemeral_to = ?) order by ts`,
    channel,
    ts,
    ts,
    reader,
  ).map((one) => Row.parse(one));
}

const Newest = z.object({ newest: z.string().nullable() });

/** The latest ts ever given out here, deleted messages and edits included. */
export function newestTs(db: Db): string | null {
  return Newest.parse(
    row(
      db,
      'select max(t) as newest from (select max(ts) as t from message union all select max(edited_ts) from message)',
    ),
  ).newest;
}

/** The workspace's own tables. Times are milliseconds; message ts are Slack's text form, which sorts as text. */
export const schema = `
create table if not exists fact (key text primary key, value text not null) strict;
create table if not exists person (
  id text primary key, name text not null unique, real_name text not null, tz text not null,
  is_bot integer not null default 0, deleted integer not null default 0
) strict;
create table if not exists channel (
  id text primary key, name text not null, kind text not null check (kind in ('channel', 'private', 'im')),
  is_archived integer not null default 0, direct_with text
) strict;
create table if not exists member (
  channel text not null references channel (id), person text not null references person (id),
  primary key (channel, person)
) strict, without rowid;
create table if not exists message (
  channel text not null references channel (id), ts text not null,
  person text, bot_id text, subtype text, text text not null, blocks text not null default '[]',
  thread_ts text, broadcast integer not null default 0, edited_ts text, edited_by text,
  state text not null default 'live' check (state in ('live', 'deleted', 'tombstone')),
  metadata text, files text not null default '[]', ephemeral_to text, client_msg_id text,
  primary key (channel, ts)
) strict;
create index if not exists message_thread on message (channel, thread_ts, ts) where thread_ts is not null;
create index if not exists message_ts on message (ts);
create table if not exists reaction (
  channel text not null, ts text not null, name text not null, person text not null, at integer not null,
  primary key (channel, ts, name, person)
) strict;
create table if not exists read_mark (
  person text not null, channel text not null, ts text not null, primary key (person, channel)
) strict, without rowid;
create table if not exists file (
  id text primary key, upload_key text not null unique, name text not null, title text not null,
  mimetype text not null, size integer not null, bytes blob, uploader text not null,
  state text not null check (state in ('promised', 'uploaded', 'shared')), created_at integer not null
) strict;
create table if not exists file_share (
  file text not null references file (id), channel text not null, ts text not null, primary key (file, channel, ts)
) strict, without rowid;
create table if not exists view (
  id text primary key, person text not null, kind text not null check (kind in ('modal', 'home')),
  position integer not null, root_id text not null, previous_id text, hash text not null,
  definition text not null, typed text not null default '{}', errors text, notice text
) strict;
create index if not exists view_person on view (person, kind, position);
create table if not exists message_input (
  person text not null, channel text not null, ts text not null, typed text not null,
  primary key (person, channel, ts)
) strict, without rowid;
create table if not exists response_url (
  id text primary key, person text not null, channel text not null,
  uses integer not null default 0, expires_at integer not null
) strict;
create table if not exists pending_event (
  event_id text primary key, body text not null, retry_num integer not null, reason text, due_at integer not null
) strict;
create index if not exists pending_due on pending_event (due_at);
create table if not exists delivery (
  n integer primary key autoincrement, at text not null, kind text not null, event_id text,
  status integer not null, retry_num integer not null, ms real not null, error text
) strict;
create table if not exists call (
  n integer primary key autoincrement, at text not null, method text not null, args text not null,
  ok integer not null, error text
) strict;
`;

/** Every table, children first, for starting over. */
export const tables = [
  'call',
  'delivery',
  'pending_event',
  'response_url',
  'message_input',
  'view',
  'file_share',
  'file',
  'read_mark',
  'reaction',
  'message',
  'member',
  'channel',
  'person',
] as const;

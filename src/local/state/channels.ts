import { z } from 'zod';
import { type Channel, ChannelKind } from '../api-types.js';
import { type Db, flag, row, rows, run, save } from './database.js';
import { freeId } from './people.js';

const Row = z.object({
  id: z.string(),
  name: z.string(),
  kind: ChannelKind,
  isArchived: flag,
  directWith: z.string().nullable(),
});
const Found = Row.optional();
const Member = z.object({ person: z.string() });

function withMembers(db: Db, { directWith, ...channel }: z.output<typeof Row>): Channel {
  const members = rows(
    db,
    Member,
    'select person from member where channel = ? order by person',
    channel.id,
  ).map(({ person }) => person);
  return { ...channel, members, ...(directWith === null ? {} : { with: directWith }) };
}

function found(db: Db, channel: z.output<typeof Found>): Channel | undefined {
  return channel === undefined ? undefined : withMembers(db, channel);
}

export function allChannels(db: Db): readonly Channel[] {
  return rows(db, Row, 'select * from channel order by rowid').map((one) => withMembers(db, one));
}

export function findChannel(db: Db, id: string): Channel | undefined {
  return found(db, row(db, Found, 'select * from channel where id = ?', id));
}

export function findChannelByName(db: Db, name: string): Channel | undefined {
  const byName = "select * from channel where name = ? and kind <> 'im'";
  return found(db, row(db, Found, byName, name.toLowerCase()));
}

/** The bot's direct-message channel with a person, when there is one. */
export function findDirectChannel(db: Db, person: string): Channel | undefined {
  return found(db, row(db, Found, 'select * from channel where direct_with = ?', person));
}

export function addChannel(
  db: Db,
  name: string,
  kind: 'channel' | 'private',
  members: readonly string[],
): Channel {
  const id = freeId('C', name, (candidate) => findChannel(db, candidate) !== undefined);
  return insertChannel(db, { id, name, kind, isArchived: false, directWith: null }, members);
}

/** The direct-message channel of a person and the bot, made when missing. */
export function directChannel(db: Db, person: string, bot: string): Channel {
  const known = findDirectChannel(db, person);
  if (known !== undefined) return known;
  const handle = person.slice(1).replace(/^0+/, '');
  const id = freeId('D', handle, (candidate) => findChannel(db, candidate) !== undefined);
  const channel = { id, name: 'directmessage', kind: 'im', isArchived: false, directWith: person } as const;
  return insertChannel(db, channel, [person, bot]);
}

function insertChannel(db: Db, channel: z.output<typeof Row>, members: readonly string[]): Channel {
  save(db, 'channel', ['id'], channel);
  for (const person of members) addMember(db, channel.id, person);
  return withMembers(db, channel);
}

export function isMember(db: Db, channel: string, person: string): boolean {
  const found = 'select person from member where channel = ? and person = ?';
  return row(db, Member.optional(), found, channel, person) !== undefined;
}

/** True when the person was not a member before. */
export function addMember(db: Db, channel: string, person: string): boolean {
  return run(db, 'insert or ignore into member (channel, person) values (?, ?)', channel, person) > 0;
}

export function removeMember(db: Db, channel: string, person: string): void {
  run(db, 'delete from member where channel = ? and person = ?', channel, person);
}

export function setArchived(db: Db, channel: string, archived: boolean): void {
  run(db, 'update channel set is_archived = ? where id = ?', archived ? 1 : 0, channel);
}

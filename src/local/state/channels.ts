import { z } from 'zod';
import { type Channel, ChannelKind } from '../api-types.js';
import { type Db, row, rows, run } from './database.js';
import { freeId } from './people.js';

const Row = z.object({
  id: z.string(),
  name: z.string(),
  kind: ChannelKind,
  is_archived: z.number(),
  direct_with: z.string().nullable(),
});
const MemberRow = z.object({ person: z.string() });

export function channelMembers(db: Db, channel: string): string[] {
  return rows(db, 'select person from member where channel = ? order by person', channel).map(
    (one) => MemberRow.parse(one).person,
  );
}

function toChannel(db: Db, found: unknown): Channel {
  const one = Row.parse(found);
  return {
    id: one.id,
    name: one.name,
    kind: one.kind,
    members: channelMembers(db, one.id),
    isArchived: one.is_archived === 1,
    ...(one.direct_with === null ? {} : { with: one.direct_with }),
  };
}

export function allChannels(db: Db): readonly Channel[] {
  return rows(db, 'select * from channel order by rowid').map((one) => toChannel(db, one));
}

export function findChannel(db: Db, id: string): Channel | undefined {
  const found = row(db, 'select * from channel where id = ?', id);
  return found === undefined ? undefined : toChannel(db, found);
}

export function findChannelByName(db: Db, name: string): Channel | undefined {
  const found = row(db, "select * from channel where name = ? and kind <> 'im'", name.toLowerCase());
  return found === undefined ? undefined : toChannel(db, found);
}

/** The bot's direct-message channel with a person, when there is one. */
export function findDirectChannel(db: Db, person: string): Channel | undefined {
  const found = row(db, 'select * from channel where direct_with = ?', person);
  return found === undefined ? undefined : toChannel(db, found);
}

export function isMember(db: Db, channel: string, person: string): boolean {
  return row(db, 'select 1 from member where channel = ? and person = ?', channel, person) !== undefined;
}

export function addChannel(
  db: Db,
  name: string,
  kind: 'channel' | 'private',
  members: readonly string[],
): Channel {
  const id = freeId('C', name, (candidate) => findChannel(db, candidate) !== undefined);
  run(db, 'insert into channel (id, name, kind) values (?, ?, ?)', id, name, kind);
  for (const person of members) addMember(db, id, person);
  return { id, name, kind, members: [...members].sort(), isArchived: false };
}

/** The direct-message channel of a person and the bot, made when missing. */
export function directChannel(db: Db, person: string, bot: string): Channel {
  const known = findDirectChannel(db, person);
  if (known !== undefined) return known;
  const id = freeId(
    'D',
    person.slice(1).replace(/^0+/, ''),
    (candidate) => findChannel(db, candidate) !== undefined,
  );
  run(
    db,
    "insert into channel (id, name, kind, direct_with) values (?, 'directmessage', 'im', ?)",
    id,
    person,
  );
  addMember(db, id, person);
  addMember(db, id, bot);
  return {
    id,
    name: 'directmessage',
    kind: 'im',
    members: [bot, person].sort(),
    isArchived: false,
    with: person,
  };
}

/** True when the person was not a member before. */
export function addMember(db: Db, channel: string, person: string): boolean {
  return run(db, 'insert or ignore into member (channel, person) values (?, ?)', channel, person) > 0;
}

/** True when the person was a member before. */
export function removeMember(db: Db, channel: string, person: string): boolean {
  return run(db, 'delete from member where channel = ? and person = ?', channel, person) > 0;
}

export function setArchived(db: Db, channel: string, archived: boolean): void {
  run(db, 'update channel set is_archived = ? where id = ?', archived ? 1 : 0, channel);
}

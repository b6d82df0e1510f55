import { copyFileSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { canonicalJson, laneOf, parseNotice } from '../../../src/slack/out/stored-notice.js';
import { insertEvent, listSetAside, listWaiting } from '../../../src/store/inbox.js';
import { type OpenDatabase, openDatabase } from '../../../src/store/sqlite/open.js';
import { tempFolder } from '../../slack/support/test-bot.js';

/* A database of the first schema, with one notice of every kind and events in every state planted in it. */

const message = { text: 'What was tasted', blocks: [] };
const direct = { kind: 'direct', person: 'U9BRAM' };
const NOTICES = [
  { key: 'p:1', kind: 'private', channel: 'C1', threadTs: '100.000001', person: 'U7JUN', message },
  { key: 'p:2', kind: 'message', place: { kind: 'thread', under: 'table:1' }, message },
  { key: 'p:3', kind: 'message', place: direct, message: null },
  {
    key: 'p:4',
    kind: 'file',
    place: direct,
    file: { name: 'n', title: 't', comment: 'c', content: { kind: 'text', text: 'x' } },
  },
] as const;
const EVENTS = [
  ['EvHELD', 'C1:held', 'waiting', '2026-11-26T10:05:00.000Z'],
  ['EvBEHIND', 'C1:held', 'waiting', null],
  ['EvTRIED', 'C1:tried', 'waiting', '2026-11-26T09:00:00.000Z'],
  ['EvFREE', 'C1:free', 'waiting', null],
  ['EvASIDE', 'C1:aside', 'set aside', null],
] as const;

let folder: ReturnType<typeof tempFolder>;
let open: OpenDatabase;
beforeEach(async () => {
  folder = tempFolder();
  const file = join(folder.path, 'bot.db');
  copyFileSync('fixtures/stored-databases/001-first-table.db', file);
  const before = new Database(file);
  const notice = before.prepare(
    `insert into notice (workspace, key, subject, kind, place_json, wanted_json, wanted_hash, state, attempts)
     values ('T1', ?, 'tasting:1', ?, ?, ?, 'h', 'kept', 0)`,
  );
  for (const wanted of NOTICES)
    notice.run(
      wanted.key,
      wanted.kind,
      canonicalJson('place' in wanted ? wanted.place : {}),
      canonicalJson(wanted),
    );
  // What was asked of somebody whose words were erased is kept without them.
  notice.run('p:erased', 'private', '{}', null);
  const event = before.prepare(
    `insert into inbox (workspace, event_id, kind, lane, body_json, received_at, state, attempts, next_try_at)
     values ('T1', ?, 'message', ?, '{"event":1}', '2026-11-26T08:00:00.000Z', ?, 1, ?)`,
  );
  for (const row of EVENTS) event.run(...row);
  before.close();
  open = await openDatabase(file);
});
afterEach(async () => {
  await open.close();
  folder.remove();
});

test('every notice gets the lane that the keeper would give it today', async () => {
  const rows = await open.db.selectFrom('notice').selectAll().execute();
  const kept = rows.filter((row) => row.wanted_json !== null);
  expect(new Set(kept.map((row) => row.lane.split(':')[0]))).toEqual(
    new Set(['home', 'reaction', 'private', 'channel', 'direct', 'thread']),
  );
  expect(kept.map((row) => row.lane)).toEqual(kept.map((row) => laneOf(parseNotice(row))));
  expect(rows.filter((row) => row.wanted_json === null).map((row) => row.lane)).toEqual(['']);
});

test('events that waited wait still, in their order and behind the same ones; known ones stay known', async () => {
  const now = new Date('2026-11-26T10:00:00.000Z');
  const waiting = await listWaiting(open.db, now, 50);
  expect(waiting.map(({ eventId, attempts, bodyJson }) => [eventId, attempts, bodyJson])).toEqual([
    ['EvTRIED', 1, '{"event":1}'],
    ['EvFREE', 1, '{"event":1}'],
  ]);
  const later = await listWaiting(open.db, new Date('2026-11-26T10:06:00.000Z'), 50);
  expect(later.map(({ eventId }) => eventId)).toEqual(['EvHELD', 'EvBEHIND', 'EvTRIED', 'EvFREE']);
  expect((await listSetAside(open.db)).map(({ eventId }) => eventId)).toEqual(['EvASIDE']);
  const again = (eventId: string) =>
    insertEvent(open.db, {
      workspace: 'T1',
      eventId,
      kind: 'message',
      lane: 'C1:free',
      bodyJson: '{}',
      receivedAt: now,
    });
  expect(await again('EvHELD')).toBe(false);
  expect(await again('EvNEW')).toBe(true);
  const last = (await listWaiting(open.db, new Date('2026-11-26T10:06:00.000Z'), 50)).at(-1);
  expect(last?.eventId).toBe('EvNEW');
});

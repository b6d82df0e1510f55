import { afterEach, beforeEach, expect, test } from 'vitest';
import { prepared } from '../../src/store/prepared.js';
import { type OpenDatabase, openDatabase } from '../../src/store/sqlite/open.js';

let open: OpenDatabase;
beforeEach(async () => {
  open = await openDatabase(':memory:');
});
afterEach(() => open.close());

type Gone = { readonly workspace: string; readonly channel: string; readonly ts: string };

const add = prepared<Gone>()((db, given) =>
  db.insertInto('gone_message').values({
    workspace: given('workspace'),
    channel: given('channel'),
    ts: given('ts'),
    at: 'now',
  }),
);

const inChannel = prepared<Pick<Gone, 'workspace' | 'channel'>>()((db, given) =>
  db
    .selectFrom('gone_message')
    .select(['ts', 'at'])
    .where('channel', '=', given('channel'))
    .where('workspace', '=', given('workspace'))
    .orderBy('ts'),
);

test('one query serves every set of values, and each finds its own rows', async () => {
  await add(open.db, { workspace: 'T1', channel: 'C1', ts: '1' });
  await add(open.db, { workspace: 'T1', channel: 'C2', ts: '2' });
  await add(open.db, { workspace: 'T2', channel: 'C1', ts: '3' });
  const found = async (workspace: string, channel: string) =>
    (await inChannel(open.db, { workspace, channel })).map((row) => row.ts);
  expect(await found('T1', 'C1')).toEqual(['1']);
  expect(await found('T1', 'C2')).toEqual(['2']);
  expect(await found('T2', 'C1')).toEqual(['3']);
  expect(await found('T2', 'C2')).toEqual([]);
});

test('what it writes goes with the transaction it is part of', async () => {
  const undone = open.db.transaction().execute(async (trx) => {
    await add(trx, { workspace: 'T1', channel: 'C1', ts: '1' });
    throw new Error('undone');
  });
  await expect(undone).rejects.toThrow('undone');
  expect(await inChannel(open.db, { workspace: 'T1', channel: 'C1' })).toEqual([]);
});

test('the same query serves another database', async () => {
  await add(open.db, { workspace: 'T1', channel: 'C1', ts: '1' });
  const other = await openDatabase(':memory:');
  expect(await inChannel(other.db, { workspace: 'T1', channel: 'C1' })).toEqual([]);
  await other.close();
});

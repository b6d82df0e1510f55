import { existsSync, readFileSync } from 'node:fs';
import { sql } from 'kysely';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Message } from '../../src/local/api-types.js';
import type { StoryHouse } from './start-house.js';
import { card, one, openTable, startStory, wordsOf } from './tell.js';

/* One tasting, told once: what a person wrote is theirs to have and to have erased, and no log repeats it. */

let house: StoryHouse;
const lines: string[] = [];
/** Words that nobody would write by chance, so that wherever one turns up, it came from that note. */
const MARK = {
  noor: 'quibblefig',
  teo: 'snaggletwine',
  gone: 'wobblethatch',
  form: 'drumblewick',
  late: 'crimsonspatch',
};

beforeAll(async () => {
  house = await startStory({ onLog: (line) => lines.push(line) });
  const table = await openTable(house);
  const [noor, teo] = [house.as('noor'), house.as('teo')];
  // Slack's bad moments are logged, and what was to be shown then quotes a note.
  await house.client.faults({ kind: 'server-error', methods: ['chat.postEphemeral'], times: 1 });
  await noor.say(`C: strawberry, ${MARK.noor}`, table.ts);
  await noor.say('strawberry, dark chocolate, winey', (await card(house, 'Cup D')).ts);
  await noor.say(`lemony ${MARK.noor}`, table.ts);
  const gone = await noor.say(`C: ${MARK.gone}`, table.ts);
  await noor.remove(gone);
  await noor.command(`/spoon note T1 A: ${MARK.form}, toffee`);
  await teo.say(`C: strawberry, ${MARK.teo}`, table.ts);
  for (const name of ['noor', 'teo', 'mika', 'sol']) await house.as(name).say('E > D > F', table.ts);
}, 60_000);
afterAll(() => house.stop());

const fileText = async (message: Message) => {
  const [file] = message.files;
  if (!file) throw new Error('no file');
  return (await fetch(house.workspace.url + file.url)).text();
};

async function openMyData(name: string): Promise<void> {
  const person = house.as(name);
  await person.command('/spoon note T1');
  await person.tapForm('privacy.mine');
}

/** Everything the bot's database file holds, its write-ahead log included, as bytes. */
async function onDisk(): Promise<Buffer> {
  const { rows } = await sql<{ file: string }>`pragma database_list`.execute(house.bot.deps.db);
  const file = rows[0]?.file ?? '';
  return Buffer.concat(
    ['', '-wal'].map((end) => file + end).flatMap((name) => (existsSync(name) ? [readFileSync(name)] : [])),
  );
}

test('a note that was deleted leaves no word in the database, once its log is written back', async () => {
  await sql`pragma wal_checkpoint(truncate)`.execute(house.bot.deps.db);
  const bytes = await onDisk();
  expect(bytes.includes(MARK.gone)).toBe(false);
  expect(bytes.includes(MARK.noor)).toBe(true);
});

test('a note that stands is kept once, not a second time as the event that brought it', async () => {
  const { rows } = await sql<{ body_json: string }>`select body_json from inbox where state = 'done'`.execute(
    house.bot.deps.db,
  );
  expect(rows.length).toBeGreaterThan(5);
  expect(rows.filter(({ body_json }) => body_json !== '{}')).toEqual([]);
});

test('my data sends a person their own notes, and nobody else’s, to them alone', async () => {
  const noor = house.as('noor');
  await openMyData('noor');
  expect(wordsOf({ ...(await cardOf(noor)), text: '' })).toContain('I keep *5 notes* of yours, from 1 table');
  await noor.tapForm('privacy.export');
  expect(JSON.stringify((await noor.form()).blocks)).toContain('On its way');
  const sent = (await noor.direct()).filter(({ files }) => files.length > 0);
  expect(sent).toHaveLength(1);
  const text = await fileText(one(sent, 'Your notes, as you asked'));
  expect(text).toContain(`“C: strawberry, ${MARK.noor}”`);
  expect(text).toContain('C — strawberry');
  expect(text).toContain(`A: ${MARK.form}, toffee`);
  expect(text).toContain('E > D > F');
  expect(text).not.toContain(MARK.teo);
  expect(text).not.toContain(MARK.gone);
  const everywhere = (await house.client.calls()).filter(
    ({ method }) => method === 'files.completeUploadExternal',
  );
  expect(everywhere.map(({ args }) => args['channel_id'])).toEqual([await noor.dm()]);
});

async function cardOf(person: { form(): Promise<{ blocks: Message['blocks'] }> }): Promise<Message> {
  const [message] = await house.as('ines').messages();
  if (!message) throw new Error('nothing was said');
  return { ...message, blocks: (await person.form()).blocks };
}

test('erased, a person’s notes are gone from counts, verdict, digest, questions and the file on disk', async () => {
  const [ines, noor] = [house.as('ines'), house.as('noor')];
  await ines.command('/spoon digest T1');
  await ines.submit({ batch: '12 kg', remarks: 'Lovely with milk.' });
  const before = wordsOf(await card(house, 'Digest T1'));
  expect(before).toContain('4 of 4 put');
  expect(wordsOf(one(await ines.thread((await card(house, 'T1 ·')).ts), 'Tally T1'))).toContain(
    'strawberry 2 of 2',
  );
  expect((await onDisk()).includes(MARK.noor)).toBe(true);
  const waiting = {
    ...{
      workspace: house.bot.workspace,
      event_id: 'EvLate',
      kind: 'message',
      lane: 'late',
      state: 'set aside',
    },
    ...{ received_at: '2026-11-13T14:00:00.000Z', attempts: 5, next_try_at: null, error: 'was broken' },
    body_json: JSON.stringify({
      event: {
        type: 'message',
        user: noor.id,
        channel: house.channel,
        ts: '1794577999.000900',
        text: MARK.late,
      },
    }),
  };
  await house.bot.deps.db.insertInto('inbox').values(waiting).execute();
  const others = await house.client.calls();

  await openMyData('noor');
  await noor.tapForm('privacy.erase');
  expect(JSON.stringify((await noor.form()).blocks)).toContain('Erased: *5 notes* from 1 table');
  await house.settle();

  const after = wordsOf(await card(house, 'Digest T1'));
  expect(after).not.toContain('4 of 4 put');
  expect(after).toContain('3 of 3 put');
  // What the host added is theirs, and stays.
  expect(after).toContain('Lovely with milk.');
  expect(wordsOf(one(await ines.thread((await card(house, 'T1 ·')).ts), 'Tally T1'))).toContain(
    'strawberry 1 of 1',
  );
  const bytes = await onDisk();
  expect(bytes.includes(MARK.noor)).toBe(false);
  expect(bytes.includes(MARK.form)).toBe(false);
  expect(bytes.includes(MARK.late)).toBe(false);
  const { db } = house.bot.deps;
  const gone = await db
    .selectFrom('gone_message')
    .select('ts')
    .where('ts', '=', '1794577999.000900')
    .execute();
  expect(gone).toHaveLength(1);
  expect(bytes.includes(MARK.teo)).toBe(true);

  const host = wordsOf(one(await ines.direct(), '5 notes were erased'));
  expect(host).toContain('5 notes were erased from *T1* at their writer’s wish');
  const said = (await house.client.calls()).slice(others.length);
  // The table card names who was invited, as it did before.
  const toOthers = said.filter(
    ({ args }) =>
      JSON.stringify(args).includes(noor.id) &&
      ![args['user'], args['user_id']].includes(noor.id) &&
      !String(args['text']).startsWith('T1 ·'),
  );
  expect(toOthers.map(({ method, args }) => [method, JSON.stringify(args).slice(0, 200)])).toEqual([]);
});

test('what was erased is never read back: not after a restart, not when its message is edited', async () => {
  await house.restartBot();
  await house.settle();
  const noor = house.as('noor');
  const [first] = (await noor.thread((await card(house, 'T1 ·')).ts)).filter(({ user }) => user === noor.id);
  if (!first) throw new Error('the message stands in Slack until its writer deletes it');
  await noor.edit(first.ts, `C: raspberry, ${MARK.noor}`);
  await noor.command('/spoon note my data');
  expect(JSON.stringify((await noor.form()).blocks)).toContain('I keep no note of yours');
  expect(wordsOf(one(await noor.thread((await card(house, 'T1 ·')).ts), 'Tally T1'))).not.toContain(
    'raspberry',
  );
});

test('erasing twice finds nothing more, and takes nothing from anybody else', async () => {
  const left = await house.bot.deps.db
    .selectFrom('note')
    .select((eb) => eb.fn.countAll<number>().as('count'))
    .where('deleted_at', 'is', null)
    .executeTakeFirstOrThrow();
  expect(left.count).toBe(4);
});

test('no log line, at any level, repeats a person’s words or a secret', () => {
  const { botToken, signingSecret } = house.workspace;
  const secrets = [...Object.values(MARK), botToken, signingSecret, 'strawberry', 'toffee', 'raspberry'];
  expect(lines.filter((line) => line.includes('could not be shown yet')).length).toBeGreaterThan(0);
  const telling = lines.filter((line) => secrets.some((secret) => line.includes(secret)));
  expect(telling.map((line) => line.slice(0, 200))).toEqual([]);
});

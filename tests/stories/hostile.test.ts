import { afterAll, beforeAll, expect, test } from 'vitest';
import { unsafeIn } from '../kit/unsafe.js';
import type { StoryHouse } from './start-house.js';
import { card, startStory, wordsOf } from './tell.js';

/* A whole tasting by people who type calls, links, disguises, formulas and paths wherever they can. */

const COFFEES = ['<!channel>', '\u202enotsalb\u202c <http://evil.example|Peru>', '../../@here *bold*'];
const BLEND = '=1+1 <@UEVIL99> & more';
const NOTE =
  'C: lemon, <!here|here> <!subteam^S1> <javascript:alert(1)|x> =HYPERLINK("http://evil.example") @channel';
const BRIEF = '<!everyone> <#CEVIL99|secrets> \u200bbright';

let house: StoryHouse;
beforeAll(async () => {
  house = await startStory();
  const [ines, noor] = [house.as('ines'), house.as('noor')];
  await ines.command('/spoon house default');
  for (const [index, name] of COFFEES.entries()) {
    await ines.command('/spoon shelf add');
    await ines.submit({ name, role: 'base', level: 'light', alone: 'alone', origin: `${BRIEF} ${index}` });
  }
  const coffees = await house.bot.deps.db
    .selectFrom('coffee')
    .select(['id', 'name'])
    .orderBy('id', 'desc')
    .limit(3)
    .execute();
  for (const { id } of coffees) {
    await ines.command(`/spoon shelf`);
    await house.bot.deps.db
      .insertInto('lot')
      .values({
        ...{
          workspace: house.bot.workspace,
          coffee_id: id,
          roast_id: null,
          mg: 900_000,
          roasted_on: '2026-11-03',
        },
        ...{ best_by: null, emptied_at: null, created_at: '2026-11-03T10:00:00.000Z', created_by: ines.id },
      })
      .execute();
  }
  await ines.command('/spoon recipe add');
  const rows = Object.fromEntries(
    coffees.flatMap(({ id }, index) => [
      [`coffee${index + 1}`, String(id)],
      [`part${index + 1}`, '1'],
    ]),
  );
  await ines.submit({ name: BLEND, why: BRIEF, ...rows });
  await ines.command('/spoon book');
  const recipe = await house.bot.deps.db
    .selectFrom('recipe')
    .select('id')
    .orderBy('id', 'desc')
    .executeTakeFirstOrThrow();
  await ines.submit({
    recipe: String(recipe.id),
    day: '2026-11-13',
    time: '14:00',
    ratios: '2:1:1',
    people: [noor.id],
    brief: BRIEF,
  });
  await house.moveTo(new Date('2026-11-13T13:50:00Z'));
  await ines.tap(await card(house, 'T1 ·'), 'table.open');
  await noor.say(NOTE, (await card(house, 'T1 ·')).ts);
  await noor.say('E > D', (await card(house, 'T1 ·')).ts);
  await noor.command(`/spoon note T1 D: strawberry ${BRIEF}`);
  await noor.command(`/spoon words ${BLEND} = lemon`);
  for (const words of [
    '',
    'shelf',
    'recipe',
    'ask',
    'table T1',
    'note T1',
    COFFEES[0],
    `shelf ${COFFEES[0]}`,
    `recipe "${BLEND}"`,
  ])
    await noor.command(`/spoon ${words}`.trim());
  await noor.command('/spoon note my data');
  await noor.tapForm('privacy.export');
  await ines.command('/spoon digest T1');
  await ines.submit({ batch: '10 kg', remarks: `${BRIEF} ${NOTE}` });
  await ines.command('/spoon tally T1 export');
}, 90_000);
afterAll(() => house.stop());

test('the tasting took place, names and all', async () => {
  const table = wordsOf(await card(house, 'T1 ·'));
  expect(table).toContain('=1+1 &lt;@UEVIL99&gt; &amp; more');
  expect(table).toContain('Decided');
  expect(wordsOf(await card(house, 'Digest T1'))).toContain('&lt;!everyone&gt;');
});

test('nothing that Slack was sent calls, links or hides anything of theirs, and nothing of it is unfurled', async () => {
  const calls = (await house.client.calls()).filter(({ method }) => /^(chat|views|files)\./.test(method));
  expect(calls.length).toBeGreaterThan(40);
  const faults = calls.flatMap(({ method, args }) => unsafeIn(args).map((fault) => `${method} ${fault}`));
  expect(faults.slice(0, 10)).toEqual([]);
  const posts = calls.filter(
    ({ method, args }) => method === 'chat.postMessage' && !String(args['channel']).startsWith('D'),
  );
  expect(posts.filter(({ args }) => String(args['unfurl_links']) !== 'false')).toEqual([]);
});

test('a file’s name is ours alone, and its comment calls nobody', async () => {
  const calls = await house.client.calls();
  const names = calls
    .filter(({ method }) => method === 'files.getUploadURLExternal')
    .map(({ args }) => String(args['filename']));
  expect(names.length).toBeGreaterThan(4);
  expect(names.filter((name) => !/^[A-Za-z0-9-]+\.[a-z]+$/.test(name))).toEqual([]);
  const comments = calls.filter(({ method }) => method === 'files.completeUploadExternal');
  for (const { args } of comments) expect(unsafeIn({ text: args['initial_comment'] })).toEqual([]);
});

test('no cell of the exported files is a formula', async () => {
  const thread = await house.as('ines').thread((await card(house, 'T1 ·')).ts);
  const files = thread.flatMap((message) => message.files).filter(({ name }) => name.endsWith('.csv'));
  expect(files.map(({ name }) => name).sort()).toEqual([
    'T1-notes.csv',
    'T1-placings.csv',
    'T1-standings.csv',
    'T1-tally.csv',
    'T1-trace.csv',
  ]);
  let seen = '';
  for (const file of files) {
    const text = await (await fetch(house.workspace.url + file.url)).text();
    seen += text;
    const cells = text.replace(/^\uFEFF/, '').split(/\r\n|,/);
    expect(cells.filter((cell) => /^"?[=+@\t]/.test(cell) || /^"?-\D/.test(cell))).toEqual([]);
  }
  expect(seen).toContain("'=");
});

import { sql } from 'kysely';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { createBot } from '../../src/app/create-bot.js';
import { seedScenario } from '../../src/app/seed.js';
import type { Deps } from '../../src/commands/common/bot.js';
import { UserError } from '../../src/runtime/errors.js';
import { loadHouse } from '../../src/store/house.js';
import { receivedFrom } from '../slack/support/received.js';
import { DOORS, everyField, everyId, goThrough, rowsOf, undone } from './every-door.js';
import type { StoryHouse } from './start-house.js';
import { card, openTable, startStory } from './tell.js';

/*
 * Two roasteries in one database. The first has a whole tasting, and a word that stands in all it knows; the
 * second has the same people, named steward and roaster, and tries everything with the first one's ids.
 */

const OTHER = 'T0OTHER';
const WORD = 'quibblefig';
let house: StoryHouse;
let deps: Deps;
let first: string;

beforeAll(async () => {
  house = await startStory();
  const table = await openTable(house);
  await house.as('noor').say(`C: strawberry, ${WORD}`, table.ts);
  await house.as('teo').say(`lemony ${WORD}`, table.ts);
  await house.as('ines').command(`/spoon words "${WORD}" = cane sugar`);
  await house.as('noor').say('E > D > F', (await card(house, 'Cup D')).ts);
  await house.as('ines').command('/spoon ask "Kayanza Hill" 300g by 20 nov');
  await house.stopBot();
  await house.restartBot();
  deps = house.bot.deps;
  first = house.bot.workspace;
  for (const name of ['coffee', 'recipe'])
    await sql`update ${sql.table(name)} set name = name || ${` ${WORD}`}`.execute(deps.db);
  await sql`update tasting set brief = ${WORD}`.execute(deps.db);
  const people = new Map(['ines', 'bram', 'noor', 'teo'].map((name) => [name, house.id(name)]));
  await seedScenario(deps, OTHER, people, 'C0OTHER');
}, 60_000);
afterAll(() => house.stop());

test('the first roastery knows its word, so that looking for it means something', async () => {
  const said: string[] = [];
  const who = { workspace: first, person: house.id('ines') };
  await undone(deps, async (inside) => {
    for (const words of ['shelf', 'recipe', 'words', 'table T1', 'ask']) {
      const answer = await goThrough(inside, who, { how: 'type', name: words }, '', new Map());
      said.push(JSON.stringify(answer));
    }
  });
  expect(said.map((one) => one.includes(WORD))).toEqual([true, true, true, true, true]);
});

test('no word, button or form of another workspace shows or changes anything of the first', async () => {
  expect((await loadHouse(deps.db, OTHER)).stewards).toEqual([house.id('ines')]);
  const before = await rowsOf(deps.db, first);
  const faults: string[] = [];
  for (const person of [house.id('ines'), house.id('noor')]) {
    for (const door of DOORS) {
      await undone(deps, async (inside) => {
        for (const id of [1, 2, 3]) {
          for (const value of door.how === 'tap' ? [everyId(id), String(id)] : [everyId(id)]) {
            const answer = await goThrough(inside, { workspace: OTHER, person }, door, value, everyField(id));
            const said =
              answer instanceof UserError ? `${answer.message} ${answer.instead}` : JSON.stringify(answer);
            if (said.includes(WORD))
              faults.push(`${door.how} ${door.name} ${value} shows ${said.slice(0, 300)}`);
          }
        }
        const after = new Set(await rowsOf(inside.db, first));
        for (const row of before)
          if (!after.has(row)) faults.push(`${door.how} ${door.name} changed ${row.slice(0, 200)}`);
      });
    }
  }
  expect(faults).toEqual([]);
}, 90_000);

test('the same doors with the same ids do show and change things for the first itself', async () => {
  const before = await rowsOf(deps.db, first);
  const working: string[] = [];
  for (const door of DOORS) {
    await undone(deps, async (inside) => {
      for (const person of [house.id('ines'), house.id('noor')])
        for (const value of [everyId(1), '1']) {
          const who = { workspace: first, person };
          const answer = await goThrough(inside, who, door, value, everyField(1));
          if (!(answer instanceof UserError)) working.push(`${door.how} ${door.name}`);
        }
      const after = new Set(await rowsOf(inside.db, first));
      if (before.some((row) => !after.has(row))) working.push(`changed by ${door.how} ${door.name}`);
    });
  }
  expect(new Set(working.filter((one) => !one.startsWith('changed'))).size).toBeGreaterThan(60);
  expect(working.filter((one) => one.startsWith('changed')).length).toBeGreaterThan(15);
}, 60_000);

test('what should be shown in another workspace is never made from the first one’s state', async () => {
  const bot = createBot();
  const subjects = ['tasting', 'note', 'ask', 'export'].flatMap((kind) =>
    [1, 2, 3].map((id) => `${kind}:${id}`),
  );
  const people = ['ines', 'noor', 'teo'].flatMap((name) => [
    `person:${house.id(name)}`,
    `mine:${house.id(name)}:1`,
  ]);
  for (const subject of [...subjects, ...people])
    expect([subject, JSON.stringify(await bot.notices(deps, OTHER, subject))]).toEqual([
      subject,
      expect.not.stringContaining(WORD),
    ]);
});

test('a message in the first one’s threads is none of the other’s business', async () => {
  const bot = createBot();
  const table = await card(house, 'T1 ·');
  const event = {
    type: 'message',
    user: house.id('noor'),
    text: 'C: lemon',
    ts: '1794577999.000100',
    channel: house.channel,
    channel_type: 'channel',
    thread_ts: table.ts,
  };
  const concerns = async (workspace: string) => {
    const received = receivedFrom(event, workspace);
    return received && bot.concerns(deps, received);
  };
  expect(await concerns(first)).toBe(true);
  expect(await concerns(OTHER)).toBe(false);
});

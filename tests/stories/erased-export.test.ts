import { afterAll, beforeAll, expect, test } from 'vitest';
import type { StoryHouse } from './start-house.js';
import { openTable, startStory } from './tell.js';

/* An export quotes what people tasted. Who has their notes erased is gone from files that were kept to be shared, too. */

const WORD = 'blackcurrant';
let house: StoryHouse;

beforeAll(async () => {
  house = await startStory();
  const table = await openTable(house);
  await house.as('noor').say(`C: ${WORD}`, table.ts);
  await house.as('teo').say('C: strawberry', table.ts);
  await house.as('ines').command('/spoon tally T1 export');
}, 60_000);
afterAll(() => house.stop());

async function keptExports(): Promise<readonly string[]> {
  const rows = await house.bot.deps.db
    .selectFrom('notice')
    .select('wanted_json')
    .where('key', 'like', 'export:%')
    .execute();
  return rows.map((row) => row.wanted_json ?? '');
}

async function erase(name: string): Promise<void> {
  const person = house.as(name);
  await person.command('/spoon note T1');
  await person.tapForm('privacy.mine');
  await person.tapForm('privacy.erase');
}

test('files that were shared are kept no longer than their words may be', async () => {
  expect((await keptExports()).filter((json) => json.includes(WORD)).length).toBeGreaterThan(0);
  await erase('noor');
  expect((await keptExports()).filter((json) => json.includes(WORD))).toEqual([]);
});

test('a file that still waits to be shared is written anew, without them', async () => {
  await house.client.faults({ kind: 'rate-limit', methods: ['files.getUploadURLExternal'], retryAfter: 2 });
  await house.client.command({
    as: house.id('ines'),
    channel: house.channel,
    text: '/spoon tally T1 export',
  });
  await expect
    .poll(async () => (await keptExports()).filter((json) => json.includes('strawberry')).length)
    .toBeGreaterThan(0);
  const { stack } = await house.client.views(house.id('teo'));
  expect(stack).toEqual([]);
  await house.client.command({ as: house.id('teo'), channel: house.channel, text: '/spoon note T1' });
  for (const actionId of ['privacy.mine', 'privacy.erase']) {
    await expect
      .poll(async () =>
        JSON.stringify((await house.client.views(house.id('teo'))).stack.at(-1)?.blocks ?? []),
      )
      .toContain(actionId);
    const view = (await house.client.views(house.id('teo'))).stack.at(-1);
    await house.client.tap({ as: house.id('teo'), view: { id: view?.id ?? '' }, action: { actionId } });
  }
  await expect
    .poll(async () => (await keptExports()).filter((json) => json.includes('strawberry')).length)
    .toBe(0);
  await house.client.post('faults', { rules: [] });
  await house.settle();
  const exports = await keptExports();
  expect(exports.length).toBeGreaterThan(0);
  expect(exports.filter((json) => json.includes('strawberry'))).toEqual([]);
});

import { afterAll, beforeAll, expect, test } from 'vitest';
import { forger } from './forge.js';
import type { StoryHouse } from './start-house.js';
import { BOOKING, openTable, startStory } from './tell.js';

/* What the bot answers straight to a command, which no call to Slack shows: at a blind table it tells the host alone. */

const TELLING = /Chirinos|Kayanza|Nubosa|2:1:1|40\/40\/20|50\/30\/20/;
let house: StoryHouse;

beforeAll(async () => {
  house = await startStory();
  await openTable(house, `${BOOKING} blind`);
}, 60_000);
afterAll(() => house.stop());

test.each(['table T1', 'note T1', 'tally T1', 'pour T1 1:1:1', 'table T1 print', ''])(
  '“/spoon %s” tells a taster nothing of what is behind a code',
  async (words) => {
    const [seen] = await forger(house).type(['noor'], words);
    expect(seen?.status).toBe(200);
    expect(seen?.heard).not.toMatch(TELLING);
  },
);

test('the table sheet tells its host, so that the silence above means something', async () => {
  const [seen] = await forger(house).type(['ines'], 'table T1');
  expect(seen?.heard).toMatch(TELLING);
});

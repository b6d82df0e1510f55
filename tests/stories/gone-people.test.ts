import { afterEach, expect, test } from 'vitest';
import type { StoryHouse } from './start-house.js';
import { BOOKING, one, startStory, wordsOf } from './tell.js';

let house: StoryHouse;
afterEach(() => house.stop());

test('when the roaster who is asked is gone from the workspace, the host hears it at once', async () => {
  house = await startStory();
  const ines = house.as('ines');
  await house.client.post(`people/${house.id('bram')}`, { deleted: true });
  await ines.command(BOOKING);
  const told = one(await ines.direct(), 'I could not tell');
  expect(wordsOf(told)).toContain('Chirinos');
  expect(wordsOf(told)).toContain('deactivated');
  await house.client.post(`people/${house.id('bram')}`, { deleted: false });
  await house.restartBot();
  await house.settle();
  one(await house.as('bram').direct(), 'Roast ask');
  expect((await ines.direct()).some(({ text }) => text.startsWith('I could not tell'))).toBe(false);
});

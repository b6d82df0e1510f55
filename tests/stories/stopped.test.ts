import { afterEach, expect, test } from 'vitest';
import type { StoryHouse } from './start-house.js';
import { BOOKING, card, one, startStory, wordsOf } from './tell.js';

let house: StoryHouse;
afterEach(() => house.stop());

test('a channel that takes no messages is told to the host once, and everything follows when it does again', async () => {
  house = await startStory();
  const ines = house.as('ines');
  await ines.command(BOOKING);
  await house.client.post(`channels/${house.channel}`, { archived: true });
  await ines.command('/spoon table T1 open', await ines.dm());
  const told = one(await ines.direct(), 'I cannot post about T1');
  expect(wordsOf(told)).toContain('it is archived');
  await house.client.post(`channels/${house.channel}`, { archived: false });
  await house.restartBot();
  await house.settle();
  expect(wordsOf(await card(house, 'Cup A'))).toContain('Chirinos');
  expect((await ines.direct()).filter(({ text }) => text.includes('T1 stands in'))).toHaveLength(1);
  expect((await ines.direct()).some(({ text }) => text.startsWith('I cannot post'))).toBe(false);
});

test('the host can have it tried again with one tap', async () => {
  house = await startStory();
  const ines = house.as('ines');
  await ines.command(BOOKING);
  await house.client.post(`channels/${house.channel}`, { archived: true });
  await ines.command('/spoon table T1 open', await ines.dm());
  await house.client.post(`channels/${house.channel}`, { archived: false });
  await ines.tap(one(await ines.direct(), 'I cannot post about T1'), 'help.retry');
  expect(wordsOf(await card(house, 'Cup F'))).toContain('40/40/20');
});

import { afterEach, expect, test } from 'vitest';
import type { StoryHouse } from './start-house.js';
import { one, startStory, wordsOf } from './tell.js';

let house: StoryHouse;
afterEach(() => house.stop());

test('invited to a channel, the bot says what it is for, once', async () => {
  house = await startStory();
  const { client } = house;
  const people = [house.id('ines'), house.id('bram')];
  await client.post('channels', { name: 'roast-room', kind: 'channel', members: people });
  const channel = (await client.state()).channels.find(({ name }) => name === 'roast-room');
  if (!channel) throw new Error('the channel was not made');
  await client.post(`channels/${channel.id}`, { addMember: 'UTALLYSPOON' });
  await house.settle();
  const hello = one(await house.as('ines').messages(channel.id), 'I run component tastings here');
  expect(wordsOf(hello)).toContain('keep nothing else that is said here');
  await house.restartBot();
  await house.settle();
  expect(await house.as('ines').messages(channel.id)).toHaveLength(1);
});

test('bare /spoon says what is next for this person', async () => {
  house = await startStory();
  const first = await house.as('ines').command('/spoon');
  expect(first.response?.text).toContain('Nothing is waiting for you. Book the next tasting?');
  await house.as('ines').command('/spoon book "Harbour Lamp" 13 nov 14:00 with @noor');
  expect((await house.as('bram').command('/spoon')).response?.text).toContain(
    'A roast of Chirinos is waiting for your answer',
  );
  expect((await house.as('noor').command('/spoon')).response?.text).toContain(
    'You are at T1 on Friday 13 November, 14:00',
  );
  expect((await house.as('ines').command('/spoon')).response?.text).toContain('T1 is on Friday 13 November');
});

test('a word that is no verb gets the nearest one with an example, never a bare error', async () => {
  house = await startStory();
  const slip = await house.as('ines').command('/spoon taly T1');
  expect(wordsOf(slip.response ?? one([], ''))).toContain('Did you mean `@Tallyspoon tally`?');
  const far = await house.as('ines').command('/spoon xylophone');
  expect(wordsOf(far.response ?? one([], ''))).toContain('/spoon help');
});

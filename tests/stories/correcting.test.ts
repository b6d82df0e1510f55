import { afterEach, expect, test } from 'vitest';
import type { StoryHouse } from './start-house.js';
import { card, one, openTable, startStory, wordsOf } from './tell.js';

let house: StoryHouse;
afterEach(() => house.stop());

/** The blocks of the form on top of a person's screen, as text. */
async function formOf(name: string): Promise<string> {
  return JSON.stringify((await house.as(name).form()).blocks);
}

test('a taster sees what was understood, drops a misreading and teaches a word, from a phone', async () => {
  house = await startStory();
  const table = await openTable(house);
  const noor = house.as('noor');
  const cupC = await card(house, 'Cup C');
  const ts = await noor.say('strawberry, rosy, zibibbo', cupC.ts);
  // Words without a place: the note is marked with a question, and kept.
  expect(
    (await noor.thread(cupC.ts)).find((message) => message.ts === ts)?.reactions.map(({ name }) => name),
  ).toEqual(['grey_question']);

  await noor.tap(cupC, 'note.form');
  expect(await formOf('noor')).toContain('I read: C — strawberry, rose');
  await noor.tapForm('note.correct');
  const { blocks } = await noor.form();
  const inputs = blocks.flatMap((block) =>
    'block_id' in block && typeof block['block_id'] === 'string' ? [block['block_id']] : [],
  );
  const rose = inputs.find((name) => name.startsWith('m:12:'));
  const unknown = inputs.find((name) => name.startsWith('u:'));
  if (!rose || !unknown) throw new Error(`no inputs to correct: ${inputs.join(', ')}`);

  const refused = await noor.submit({ [unknown]: 'blorb' });
  expect(refused.errors?.[unknown]).toContain('I do not know “blorb” either');
  const kept = await noor.submit({ [rose]: 'drop it', [unknown]: 'raisin', teach: ['teach'] });
  expect(kept.closed).toBe(true);
  expect(
    (await noor.thread(cupC.ts)).find((message) => message.ts === ts)?.reactions.map(({ name }) => name),
  ).toEqual(['spoon']);

  // The house knows the word from now on, for everybody.
  await house.as('teo').say('zibibbo', cupC.ts);
  await house.as('ines').tap(await card(house, 'T1 ·'), 'tally.show');
  const tally = wordsOf(one(await house.as('ines').thread(table.ts), 'Tally T1'));
  expect(tally).toContain('raisin 2 of 2');
  expect(tally).not.toContain('rose');
});

test('the form keeps notes and a placing like any reply, and says what it read', async () => {
  house = await startStory();
  const table = await openTable(house);
  const teo = house.as('teo');
  await teo.tap(table, 'note.form');
  const cups = await house.bot.deps.db.selectFrom('cup').select(['id', 'label']).execute();
  const id = (label: string) => String(cups.find((cup) => cup.label === label)?.id);
  await teo.submit({ cup: id('B'), text: 'lemon and black tea, not sour', order: 'E > D > F' });
  const said = [...(await teo.messages()), ...(await teo.thread(table.ts))]
    .filter(({ ephemeral }) => ephemeral)
    .at(-1);
  expect(wordsOf(said ?? one([], ''))).toContain('I read: B — lemon, black tea; not sour');
  await house.as('ines').tap(await card(house, 'T1 ·'), 'tally.show');
  expect(wordsOf(one(await house.as('ines').thread(table.ts), 'Tally T1'))).toContain('black tea 1 of 1');
});

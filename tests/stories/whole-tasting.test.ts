import { afterEach, expect, test } from 'vitest';
import type { StoryHouse } from './start-house.js';
import { BOOKING, card, one, openTable, startStory, wordsOf } from './tell.js';

let house: StoryHouse;
afterEach(() => house.stop());

test('booking asks the roaster at once for the coffee that does not exist alone', async () => {
  house = await startStory();
  const answer = await house.as('ines').command(BOOKING);
  expect(answer.response?.text).toContain('Booked T1: Harbour Lamp, Friday 13 November, 14:00. 6 cups');
  const table = wordsOf(await card(house, 'T1 ·'));
  expect(table).toContain('Not ready yet');
  expect(table).toContain(`<@${house.id('bram')}>`);
  // Six cups of 11.4 g (207 mL at 55 g/L) in two bowls each; Chirinos: (11.4 + 5.7 + 5.7 + 4.6) g × 2 in the
  // bowls, 11.4 g × 2 for a pour to come, and its share of 5 g purged per sample (5 + 2.5 + 2.5 + 2 g); twice
  // over, and 50 g to spare: (77.6 + 12) × 2 + 50 = 229.2 g roasted. At 15.5 % loss that is 271.3 g of green,
  // 280 g at the drum's scale of 10 g.
  const ask = one(await house.as('bram').direct(), 'Roast ask');
  expect(wordsOf(ask)).toContain('Charge *280 g green* in the 1 kg sample roaster');
  // Roast days are Tuesday and Thursday; a cupping wants a day of rest: Thursday 12 November.
  expect(wordsOf(ask)).toContain('Thursday 12 November');
});

test('an accepted and reported roast makes the table ready', async () => {
  house = await startStory();
  await openTable(house);
  const asks = await house.as('bram').direct();
  // 280 g in, 238 g out: (280 − 238) / 280 = 15 %.
  expect(wordsOf(one(asks, 'Roasted: Chirinos'))).toContain('280 g green in, 238 g out, 15 % loss');
  const reminder = one(await house.as('ines').direct(), 'Tomorrow: T1');
  expect(wordsOf(reminder)).toContain('Every coffee is here');
});

test('an opened table has one card for each cup, and its threads take notes as people write them', async () => {
  house = await startStory();
  const table = await openTable(house);
  const cups = (await house.as('noor').messages()).filter(({ text }) => text.startsWith('Cup '));
  expect(cups.map(({ text }) => text.slice(0, 5))).toEqual([
    'Cup A',
    'Cup B',
    'Cup C',
    'Cup D',
    'Cup E',
    'Cup F',
  ]);

  await house.as('noor').say('dark chocolate, full body, not sour', (await card(house, 'Cup A')).ts);
  const cupB = await card(house, 'Cup B');
  const slip = await house.as('sol').say('toffie', cupB.ts);
  await house.as('sol').edit(slip, 'lemon');
  const gone = await house.as('wren').say('cardboard', cupB.ts);
  await house.as('wren').remove(gone);
  await house.as('wren').say('A: dark chocolate. B: lemon, black tea\nC: strawberry', table.ts);
  await house.as('teo').say('who has the kettle?', table.ts);

  const thread = await house.as('noor').thread((await card(house, 'Cup A')).ts);
  expect(thread.at(-1)?.reactions.map(({ name }) => name)).toEqual(['spoon']);
  expect((await house.as('teo').thread(table.ts)).at(-1)?.reactions).toEqual([]);

  await house.as('ines').say('@Tallyspoon tally', table.ts);
  const tally = wordsOf(one(await house.as('ines').thread(table.ts), 'Tally T1'));
  expect(tally).toContain('dark chocolate 2 of 2');
  expect(tally).toContain('lemon 2 of 2');
  expect(tally).not.toContain('cardboard');
  expect(tally).not.toContain('toffee');
});

test('a note that names no cup is asked about, its writer alone, and one tap settles it', async () => {
  house = await startStory();
  const table = await openTable(house);
  const jun = house.as('jun');
  await jun.say('lemony and bright', table.ts);
  const question = (await jun.thread(table.ts)).find(({ ephemeral }) => ephemeral);
  if (!question) throw new Error('nobody asked');
  expect(question.text).toContain('Which cup was that? “lemony and bright”');
  expect((await house.as('noor').thread(table.ts)).some(({ ephemeral }) => ephemeral)).toBe(false);
  await jun.tap(question, 'note.cup#1');
  const told = (await jun.thread(table.ts)).at(-1);
  expect(told?.text).toContain('Counted for cup B. I read: B — lemon, bright acidity');
});

test('a cup poured in the middle joins the table at once', async () => {
  house = await startStory();
  const table = await openTable(house);
  await house.as('ines').say('@Tallyspoon pour 3:2:1', table.ts);
  expect(wordsOf(await card(house, 'Cup G'))).toContain(
    'Chirinos 50 %, Kayanza Hill 33.3 %, Nubosa Natural 16.7 %',
  );
  await house.as('noor').say('@Tallyspoon pour 1:1:1', table.ts);
  const refusal = (await house.as('noor').thread(table.ts)).find(({ ephemeral }) => ephemeral);
  expect(refusal?.text).toContain('That is for the host and the stewards');
});

test('restarting in the middle loses nothing and posts nothing twice', async () => {
  house = await startStory();
  const table = await openTable(house);
  await house.as('noor').say('C: strawberry', table.ts);
  const before = await house.as('ines').messages();
  await house.restartBot();
  await house.settle();
  const after = await house.as('ines').messages();
  expect(after.map(({ ts, text }) => [ts, text])).toEqual(before.map(({ ts, text }) => [ts, text]));
  await house.as('ines').say('@Tallyspoon tally', table.ts);
  expect(wordsOf(one(await house.as('ines').thread(table.ts), 'Tally T1'))).toContain('strawberry 1 of 1');
});

test('what is written while the bot is down is read when it is back', async () => {
  house = await startStory();
  const table = await openTable(house);
  await house.stopBot();
  await house.client.say({
    as: house.id('noor'),
    channel: house.channel,
    text: 'C: blueberry',
    thread: table.ts,
  });
  await house.restartBot();
  await house.settle();
  await house.as('ines').say('@Tallyspoon tally', table.ts);
  expect(wordsOf(one(await house.as('ines').thread(table.ts), 'Tally T1'))).toContain('blueberry 1 of 1');
});

test('the host decides, and the digest says who won, how sure that is, and what to weigh', async () => {
  house = await startStory();
  const table = await openTable(house);
  for (const who of ['noor', 'teo', 'mika', 'sol', 'wren', 'jun', 'ines'])
    await house.as(who).say('E > D > F', table.ts);
  await house.as('noor').command('/spoon digest T1');
  const ines = house.as('ines');
  await ines.command('/spoon digest T1');
  await ines.submit({ batch: '12 kg', remarks: 'Good table.' });
  const digest = wordsOf(await card(house, 'Digest T1'));
  // Seven of seven: two-sided sign test 2 × 0.5^7 = 0.0156, by Holm over two ratios 0.031: clear.
  expect(digest).toContain('Clear: E (2:1:1) wins: 7 of 7 put it over D, 7 of 7 over F.');
  // 12 kg at 2:1:1: 6 + 3 + 3 kg. Joined green: 6 / 0.845 + 3 / 0.85 = 7.101 + 3.529, up to 10 g each.
  expect(digest).toContain('Chirinos and Kayanza Hill 9 kg + Nubosa Natural 3 kg = 12 kg');
  expect(digest).toContain('“Good table.”');
  expect(wordsOf(await card(house, 'T1 ·'))).toContain('Decided.');
});

test('late notes are kept, not counted, and the host is told; reopening counts them', async () => {
  house = await startStory();
  const table = await openTable(house);
  const ines = house.as('ines');
  await ines.tap(table, 'table.close');
  await house.as('noor').say('C: strawberry', table.ts);
  expect(wordsOf(one(await ines.direct(), 'One note was written'))).toContain(
    'not counted unless you reopen',
  );
  expect(wordsOf(one(await ines.thread(table.ts), 'Tally T1'))).not.toContain('strawberry');
  await ines.tap(await card(house, 'T1 ·'), 'table.reopen');
  expect(wordsOf(one(await ines.thread(table.ts), 'Tally T1'))).toContain('strawberry 1 of 1');
});

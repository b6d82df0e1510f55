import { afterEach, expect, test } from 'vitest';
import type { StoryHouse } from './start-house.js';
import { BOOKING, card, one, openTable, startStory, wordsOf } from './tell.js';

let house: StoryHouse;
afterEach(() => house.stop());

/** What could tie a code to a cup: coffees, their origins, processes and roles, and every ratio on the table. */
const TELLING =
  /chirinos|kayanza|nubosa|peru|burundi|costa rica|washed|natural|highlight|2:1:1|40\/40\/20|50\/30\/20|3:2:1|component|"blend"|poured/i;

/** Calls that reach people: posts, updates, whispers, forms, home tabs and files. */
const SHOWN = /^(chat\.|views\.|files\.|reactions\.)/;

test('before closing, nothing that anyone but the host gets says what is behind a code', async () => {
  house = await startStory();
  const host = house.id('ines');
  const table = await openTable(house, `${BOOKING} blind`);
  const cups = (await house.as('noor').messages()).filter(({ text }) => text.startsWith('Cup '));
  expect(cups).toHaveLength(6);
  const first = cups[0];
  if (!first) throw new Error('no cups');
  await house.as('noor').say('strawberry', first.ts);
  await house.as('teo').say('lemony', table.ts);
  await house.as('noor').tap(first, 'note.form');
  await house.as('noor').command('/spoon table T1');
  await house.as('noor').command('/spoon note T1');
  await house.as('noor').command('/spoon');
  await house.as('noor').openHome();
  const before = (await house.client.calls()).length;
  await house.as('ines').tap(table, 'pour.form');
  const hostsOwn = (await house.client.calls()).slice(before).filter(({ method }) => method === 'views.open');
  await house.as('ines').submit({ ratio: '3:2:1' });
  await house.as('ines').tap(await card(house, 'T1 ·'), 'tally.show');
  await house.as('noor').say('@Tallyspoon tally', table.ts);
  await house.as('noor').command('/spoon pour T1 1:1:1');

  const opened = (await house.client.calls()).findIndex(({ args }) =>
    JSON.stringify(args).includes('The table is open'),
  );
  const calls = (await house.client.calls()).slice(opened).filter(({ method }) => SHOWN.test(method));
  const roaster = (await house.as('bram').dm()) ?? '';
  const hostDirect = await house.as('ines').dm();
  const leaks = calls.filter(({ n, args }) => {
    const said = JSON.stringify(args);
    const toHost = args['user'] === host || args['channel'] === hostDirect || args['user_id'] === host;
    // The roaster has to know which coffee to roast, and no code stands in an ask.
    const toRoaster = args['channel'] === roaster;
    const hostsForm = hostsOwn.some((call) => call.n === n);
    return !toHost && !toRoaster && !hostsForm && TELLING.test(said);
  });
  expect(leaks.map(({ method, args }) => [method, JSON.stringify(args).slice(0, 400)])).toEqual([]);
  expect(hostsOwn).toHaveLength(1);
  expect(calls.length).toBeGreaterThan(15);
});

test('codes are told when the table closes', async () => {
  house = await startStory();
  const table = await openTable(house, `${BOOKING} blind`);
  await house.as('ines').tap(table, 'table.close');
  const revealed = wordsOf(await card(house, 'T1 ·'));
  for (const name of [
    'Chirinos',
    'Kayanza Hill',
    'Nubosa Natural',
    'Harbour Lamp 50/30/20',
    '2:1:1',
    '40/40/20',
  ]) {
    expect(revealed).toContain(name);
  }
});

test('codes have three digits, differ in their first digit, and are named by tasters like letters', async () => {
  house = await startStory();
  const table = await openTable(house, `${BOOKING} blind`);
  const codes = (await house.as('noor').messages()).flatMap(
    ({ text }) => /^Cup (\d{3})\./.exec(text)?.[1] ?? [],
  );
  expect(new Set(codes.map((code) => code[0])).size).toBe(6);
  await house.as('noor').say(`${codes[2]}: strawberry`, table.ts);
  await house.as('ines').tap(await card(house, 'T1 ·'), 'tally.show');
  const tally = wordsOf(one(await house.as('ines').thread(table.ts), 'Tally T1'));
  expect(tally).toMatch(new RegExp(`\\*${codes[2]}\\*\\nstrawberry 1 of 1`));
});

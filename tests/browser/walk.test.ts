import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { createBot } from '../../src/app/create-bot.js';
import { drawPicture } from '../../src/kit/pictures/draw-picture.js';
import { type StoryHouse, startHouse } from '../stories/start-house.js';
import { launchBrowser } from './browser.js';
import { type Phone, phoneOf } from './phone.js';

const TASTERS = ['noor', 'teo', 'mika', 'sol', 'wren', 'jun'] as const;

let house: StoryHouse;
let browser: Browser;
const phones = new Map<string, Phone>();

beforeAll(async () => {
  house = await startHouse({
    bot: createBot(),
    drawPicture,
    // Wednesday 4 November 2026, ten in the morning in Lisbon.
    startsAt: new Date('2026-11-04T10:00:00Z'),
    newSeed: () => 7,
    // Eight browsers share this machine with the bot: three seconds would measure them, not it.
    workspaceOptions: { pageDirectory: 'dist/local/page', ackTimeoutMs: 20_000, triggerLifeMs: 20_000 },
  });
  browser = await launchBrowser();
  for (const handle of ['ines', 'bram', ...TASTERS]) {
    phones.set(handle, await phoneOf(browser, house.workspace.url, handle));
  }
});

afterAll(async () => {
  await browser.close();
  await house.stop();
});

function phone(handle: string): Phone {
  const found = phones.get(handle);
  if (found === undefined) throw new Error(`${handle} has no phone`);
  return found;
}

/** How many messages of the channel begin with these words: one for each notice, or something was posted twice. */
async function standing(words: string): Promise<number> {
  const messages = await house.as('ines').messages();
  return messages.filter(({ text, ephemeral }) => !ephemeral && text.startsWith(words)).length;
}

test('the host books the blend with two more ratios and the missing coffee is asked for', async () => {
  const ines = phone('ines');
  await ines.openChannel();
  await ines.say('/spoon book');
  const form = await ines.form('Book a tasting');
  await form.getByLabel('Day').fill('2026-11-13');
  await form.getByLabel('Start').fill('14:00');
  await form.getByLabel('Other ratios').fill('2:1:1\n40/40/20');
  await form.locator('summary').click();
  for (const handle of TASTERS) await form.getByLabel(`(@${handle})`).check();
  await form.getByRole('button', { name: 'Book', exact: true }).click();
  await form.waitFor({ state: 'detached' });

  const card = ines.slip('T1 · Harbour Lamp');
  await card.getByText(/Friday 13 November/).waitFor();
  await card.getByText(/Not ready yet(.|\n)*Chirinos/).waitFor();
  expect(await standing('T1 · ')).toBe(1);
});

test('the roaster hears of it, says yes, and reports the roast once the day has come', async () => {
  const bram = phone('bram');
  await bram.page
    .getByRole('img', { name: /unread/ })
    .first()
    .waitFor();
  await bram.openDirect();
  const ask = bram.slip('Please roast Chirinos');
  await bram.tap(ask, 'Accept');
  await ask.getByText(/On the plan/).waitFor();

  await phone('ines').moveClockTo('2026-11-12T16:00');
  await house.settle();
  await bram.tap(bram.slip(/Chirinos/), 'Roasted');
  const form = await bram.form('What came out');
  await form.getByLabel('Roasted out').fill('238');
  await form.getByRole('button', { name: 'Record' }).click();
  await form.waitFor({ state: 'detached' });
  await phone('ines')
    .slip('T1 · Harbour Lamp')
    .getByText('Every coffee is here and rested in time.')
    .waitFor();
});

test('the table opens with one card and one thread for each cup', async () => {
  const ines = phone('ines');
  await ines.moveClockTo('2026-11-13T13:58');
  await ines.tap(ines.slip('T1 · Harbour Lamp'), 'Open the table');
  for (const cup of ['A', 'B', 'C', 'D', 'E', 'F']) await ines.slip(`Cup ${cup}`).waitFor();
  await house.settle();
  for (const cup of ['A', 'B', 'C', 'D', 'E', 'F']) expect(await standing(`Cup ${cup}`)).toBe(1);
});

test('six tasters reply in their own words; one mends, one takes back, one is asked which cup', async () => {
  for (const handle of TASTERS) await phone(handle).openChannel();

  await phone('noor').openThread('Cup A');
  await phone('noor').say('dark chocolate, full body');
  await phone('noor')
    .slip('dark chocolate, full body')
    .getByRole('button', { name: /Tallyspoon/ })
    .waitFor();

  await phone('teo').openThread('Cup A');
  await phone('teo').say('chocolate and nuts, heavy body');
  await phone('mika').openThread('Cup C');
  await phone('mika').say('strawberry, winey');

  await phone('sol').openThread('Cup B');
  await phone('sol').say('lime, black tea');
  await phone('sol').edit(phone('sol').slip('lime, black tea'), 'lemon, black tea, sweet');
  await phone('sol').slip('lemon, black tea, sweet').getByText('edited').waitFor();

  await phone('wren').openThread('Cup B');
  await phone('wren').say('cardboard');
  await phone('wren').remove(phone('wren').slip('cardboard'));
  await phone('wren').slip('cardboard').waitFor({ state: 'detached' });
  await phone('wren').leaveThread();
  await phone('wren').openThread('T1 · Harbour Lamp');
  await phone('wren').say('A: chocolate. B: lemon, black tea');

  await phone('jun').openThread('T1 · Harbour Lamp');
  await phone('jun').say('lemony and bright');
  const question = phone('jun').slip('only you can see this');
  await phone('jun').tap(question, 'B');
  await house.settle();
  await question.getByRole('button', { name: 'C' }).waitFor({ state: 'detached' });
});

test('a cup is poured in the middle, and a restart loses nothing and posts nothing twice', async () => {
  const ines = phone('ines');
  await ines.openThread('T1 · Harbour Lamp');
  await ines.say('@Tallyspoon pour 3:2:1');
  await ines.leaveThread();
  await ines.slip('Cup G').waitFor();

  await house.stopBot();
  await phone('teo').leaveThread();
  await phone('teo').openThread('Cup B');
  await phone('teo').say('lemon while the bot is away');
  await house.restartBot();
  await house.settle();
  await phone('teo')
    .slip('lemon while the bot is away')
    .getByRole('button', { name: /Tallyspoon/ })
    .waitFor();
  for (const cup of ['A', 'B', 'C', 'D', 'E', 'F', 'G']) expect(await standing(`Cup ${cup}`)).toBe(1);
  expect(await standing('T1 · ')).toBe(1);
});

test('the tally and the digest appear, and stand after a reload', async () => {
  const ines = phone('ines');
  const orders = ['E > D > F', 'E > D > F', 'best: E', 'E > F > D', 'D > E > F', 'E > D > F'];
  for (const [index, handle] of TASTERS.entries()) {
    const taster = phone(handle);
    await taster.openChannel();
    await taster.openThread('T1 · Harbour Lamp');
    await taster.say(`${orders[index] ?? ''}. E: chocolate, lemon`);
  }
  await ines.openThread('T1 · Harbour Lamp');
  await ines.say('@Tallyspoon tally');
  const tally = ines.slip('Tally T1');
  await tally.getByText(/lemon/).first().waitFor();
  await tally.getByText(/of 6/).first().waitFor();
  await ines.leaveThread();

  await ines.say('/spoon digest T1');
  const form = await ines.form('Decide T1');
  await form.getByLabel('A word of yours').fill('Good table.');
  await form.getByRole('button', { name: 'Decide and post' }).click();
  await form.waitFor({ state: 'detached' });
  const digest = ines.slip('Digest T1');
  // Counted by hand in the orders: Mika named a best cup but noted no other, so five placed E beside D.
  await digest.getByText(/4 of 5 put it over D/).waitFor();
  await digest.getByText('Production note').waitFor();
  await house.settle();
  expect(await standing('Digest T1')).toBe(1);

  await ines.page.reload();
  await ines.slip('Digest T1').waitFor();
  for (const one of phones.values()) expect(one.complaints).toEqual([]);
});

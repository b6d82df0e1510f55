import { afterEach, beforeEach, expect, test } from 'vitest';
import { seedScenario } from '../../../src/app/seed.js';
import { book } from '../../../src/commands/booking/book.js';
import { ask } from '../../../src/commands/roasting/ask.js';
import { shelf } from '../../../src/commands/shelf/shelf.js';
import { listAsks } from '../../../src/store/asks.js';
import { listCoffees } from '../../../src/store/coffees.js';
import { saveHouse } from '../../../src/store/house.js';
import { listLots } from '../../../src/store/shelf.js';
import { type OpenDatabase, openDatabase } from '../../../src/store/sqlite/open.js';
import { listTastings } from '../../../src/store/tastings.js';
import { depsAt } from '../common/deps-at.js';
import { playFeature, textsOf } from '../common/play-feature.js';
import { sixtyCoffees } from './many-coffees.js';

/* Wednesday 25 November 2026; the demo's lots were roasted on Tuesday 24 November. */
const NOW = '2026-11-25T09:00:00Z';
const PEOPLE = new Map([
  ['ines', 'U0INES'],
  ['bram', 'U0BRAM'],
]);

let open: OpenDatabase;
let play: ReturnType<typeof playFeature>;

beforeEach(async () => {
  open = await openDatabase(':memory:');
  const deps = depsAt(open.db, NOW);
  await seedScenario(deps, 'T1', PEOPLE, 'C1');
  play = playFeature(shelf, deps);
});
afterEach(() => open.close());

async function coffee(name: string) {
  return (await listCoffees(open.db, 'T1')).find((known) => known.name === name);
}

async function gramsOf(name: string) {
  const id = (await coffee(name))?.id;
  return (await listLots(open.db, 'T1')).filter((lot) => lot.coffeeId === id).map((lot) => lot.mg / 1000);
}

test('the list shows what is roasted before what is not', async () => {
  const said = textsOf(await play.type(''));
  expect(said).toContain('Shelf: 3 coffees');
  expect(said).toMatch(
    /Kayanza Hill\* · 600 g · rested · best by Thu 24 Dec[\s\S]*Not roasted[\s\S]*Chirinos\* · only in blends/,
  );
});

test.each(['chirinos', '"Chirinos"', 'show chir', 'peru'])('`shelf %s` opens Chirinos', async (words) => {
  const said = textsOf(await play.type(words));
  expect(said).toContain('*Chirinos*');
  expect(said).toContain('a tasting has to ask for it');
  expect(said).toContain('loss 15.5 %, as it was given');
  expect(said).toContain('Harbour Lamp (50 %)');
});

test('a coffee with a role is added at once and says what was assumed', async () => {
  const said = textsOf(
    await play.type('add "Serra Azul" from Brazil natural base dark alone loss 18% price 6,20'),
  );
  expect(said).toContain('Added *Serra Azul*.');
  expect(await coffee('Serra Azul')).toMatchObject({
    origin: 'Brazil',
    process: 'natural',
    role: 'base',
    level: 'dark',
    soldAlone: true,
    lossBp: 1800,
    greenPriceCents: 620,
  });
});

test('a name alone opens the form with the name in it, and the form adds the coffee', async () => {
  const answer = await play.type('add Serra Azul Natural');
  const saved = await play.submit(answer, { role: 'highlight', alone: 'blends', loss: '14,5', price: '€9' });
  expect(textsOf(saved)).toContain('Added *Serra Azul Natural*.');
  expect(await coffee('Serra Azul Natural')).toMatchObject({
    role: 'highlight',
    soldAlone: false,
    lossBp: 1450,
    greenPriceCents: 900,
    process: null,
  });
});

test('what the form cannot read is said beside its field, and nothing is kept', async () => {
  const answer = await play.type('add');
  const refused = await play.submit(answer, { name: '', loss: '80', price: 'dear' });
  expect(Object.keys(refused.errors ?? {}).sort()).toEqual(['loss', 'name', 'price']);
  expect(await listCoffees(open.db, 'T1')).toHaveLength(3);
});

test('a name of signs that nobody can see is none', async () => {
  await expect(play.type('add "\u200b\u200e" base')).rejects.toThrow('A name has 1 to 80 characters.');
});

test('a second coffee of the same name is refused, whatever its case', async () => {
  await expect(play.type('add chirinos base')).rejects.toMatchObject({
    message: 'There is a coffee called Chirinos already.',
  });
});

test.each([
  ['"Kayanza Hill" 500g roasted tue', 500, '2026-11-24'],
  ['kayanza 1.2 kg roasted yesterday', 1200, '2026-11-24'],
  ['put kayanza hill 14 oz roasted thu', 396.893, '2026-11-19'],
  ['kayanza 500 g', 500, '2026-11-25'],
  ['kayanza 500g roasted wed', 500, '2026-11-25'],
  ['kayanza 500g roasted 20 nov', 500, '2026-11-20'],
])('`shelf %s` puts %d g on, roasted %s', async (words, grams, day) => {
  await play.type(words);
  const lots = await listLots(open.db, 'T1');
  expect(lots).toContainEqual(expect.objectContaining({ mg: grams * 1000, roastedOn: day }));
});

test('`add` with grams of a coffee that is there puts them on the shelf', async () => {
  await play.type('add "Kayanza Hill" 200g roasted tue');
  expect(await gramsOf('Kayanza Hill')).toEqual([600, 200]);
  expect(await listCoffees(open.db, 'T1')).toHaveLength(3);
});

test('an unknown coffee with grams is offered by its name alone', async () => {
  const answer = await play.type('serra azul 500g roasted tue');
  expect((await play.tap(answer, 'Add “serra azul”')).form?.callback_id).toBe('shelf.coffee');
});

test('a roast day to come is refused', async () => {
  await expect(play.type('kayanza 500g roasted 28 nov')).rejects.toMatchObject({
    message: expect.stringContaining('still to come'),
  });
});

test('a roast with its green weight is recorded and teaches the loss', async () => {
  // By hand: 500 g from 590 g green is 90 / 590 = 15.254 % lost.
  const said = textsOf(await play.type('kayanza 500g roasted tue from 590g green'));
  expect(said).toContain('It lost 15.25 %; from now on I reckon with 15.25 %.');
  expect(said).toContain('loss 15.25 %, from 1 roast of its own');
  expect((await coffee('Kayanza Hill'))?.greenMg).toBe(45_000_000 - 590_000);
});

test('a batch far from the usual loss is asked about, and on record only once somebody is sure', async () => {
  const asked = await play.type('kayanza 470g roasted tue from 590g green');
  // By hand: 120 g of 590 g are 20.34 %; Kayanza Hill is kept with 15 %.
  expect(textsOf(asked)).toContain('A loss of 20.34 % is more than 2 points from the 15 % that is usual');
  expect(textsOf(asked)).toContain('Please look at both weights again.');
  expect(await gramsOf('Kayanza Hill')).toEqual([600]);
  const said = textsOf(await play.tap(asked, 'Both weights are right'));
  expect(said).toContain('It lost 20.34 %; from now on I reckon with 20.34 %.');
  expect(await gramsOf('Kayanza Hill')).toEqual([600, 470]);
});

test('more roasted than green is refused and nothing is put on', async () => {
  await expect(play.type('kayanza 590g roasted tue from 500g green')).rejects.toMatchObject({
    message: expect.stringContaining('swapped'),
  });
  expect(await gramsOf('Kayanza Hill')).toEqual([600]);
});

test('coffee is taken off, oldest roast first, and never more than there is', async () => {
  await play.type('kayanza 500g roasted thu');
  expect(textsOf(await play.type('take kayanza 700g'))).toContain('Took 700 g');
  expect(await gramsOf('Kayanza Hill')).toEqual([400]);
  await expect(play.type('kayanza -401g')).rejects.toThrow(/400 g/);
  const emptied = await play.tap(await play.type('kayanza'), 'Take off');
  await play.submit(emptied, {});
  expect(await gramsOf('Kayanza Hill')).toEqual([]);
});

test('the form puts roasted coffee on the shelf with its best-by', async () => {
  const answer = await play.tap(await play.type(''), 'Put roasted on the shelf');
  const id = String((await coffee('Chirinos'))?.id);
  const wrong = await play.submit(answer, { coffee: id, roasted: 'some', day: '2026-12-24' });
  expect(Object.keys(wrong.errors ?? {}).sort()).toEqual(['day', 'roasted']);
  await play.submit(answer, { coffee: id, roasted: '350', day: '2026-11-24' });
  const lots = await listLots(open.db, 'T1');
  expect(lots).toContainEqual(
    expect.objectContaining({ mg: 350_000, roastedOn: '2026-11-24', bestBy: '2026-12-24' }),
  );
});

test('an infused coffee carries its allergen warning on the card', async () => {
  const answer = await play.tap(await play.type('nubosa'), 'More facts');
  const saved = await play.submit(answer, { flavour: 'Cinnamon', moisture: '11', screen: '16,5' });
  expect(textsOf(saved)).toContain('Flavour added or infused:* Cinnamon. Ask tasters about allergies first');
  expect(await coffee('Nubosa Natural')).toMatchObject({
    moistureBp: 1100,
    screen: 16.5,
    flavourAdded: 'Cinnamon',
  });
});

test('measurements out of this world are refused beside their field', async () => {
  const answer = await play.tap(await play.type('nubosa'), 'More facts');
  const refused = await play.submit(answer, { moisture: '55', density: '7', screen: '99', green: 'lots' });
  expect(Object.keys(refused.errors ?? {}).sort()).toEqual(['density', 'green', 'moisture', 'screen']);
});

test('facts can be changed by words', async () => {
  await play.type('nubosa loss 14.2 % price 11 only in blends');
  expect(await coffee('Nubosa Natural')).toMatchObject({
    lossBp: 1420,
    greenPriceCents: 1100,
    soldAlone: false,
  });
});

test('words that fit nothing are said back with what was understood', async () => {
  await expect(play.type('nubosa frobnicate')).rejects.toMatchObject({
    message: 'I understood *Nubosa Natural*, but not “frobnicate”.',
  });
});

test('an unknown coffee offers the nearest names and to add it', async () => {
  const answer = await play.type('chirnos');
  expect(textsOf(answer)).toContain('I know no coffee called “chirnos”.');
  expect(textsOf(await play.tap(answer, 'Chirinos'))).toContain('*Chirinos*');
  expect((await play.tap(answer, 'Add “chirnos”')).form?.callback_id).toBe('shelf.coffee');
});

test('a coffee of a blend cannot be archived, one of none can', async () => {
  await expect(play.type('archive chirinos')).rejects.toMatchObject({
    message: 'Chirinos is part of Harbour Lamp.',
  });
  await play.type('add "Serra Azul" base');
  expect(textsOf(await play.tap(await play.type('serra'), 'Archive'))).toContain('Archived *Serra Azul*.');
  expect(await coffee('Serra Azul')).toBeUndefined();
});

test('a house that reads pounds sees them beside the grams, and a bare number in a form is asked about', async () => {
  await saveHouse(open.db, 'T1', { unitSystem: 'pounds' }, 'U0INES', new Date(NOW));
  // By hand: 600 g / 28.349523125 g per ounce = 21.16 oz, which is 1 lb 5.2 oz.
  expect(textsOf(await play.type(''))).toContain('600 g (1 lb 5.2 oz)');
  const form = await play.tap(await play.type('kayanza'), 'Put roasted on');
  const refused = await play.submit(form, { roasted: '350' });
  expect(refused.errors?.['roasted']).toContain('350 of what?');
});

test('a coffee can be asked for from its card', async () => {
  const asks = playFeature(ask, depsAt(open.db, NOW));
  const form = await asks.tap(await play.type('chirinos'), 'Ask for a roast');
  expect(JSON.stringify(form.form)).toContain('Chirinos');
});

test('a booked table follows the shelf: taken coffee is asked for, coffee put on makes it ready', async () => {
  const deps = depsAt(open.db, NOW);
  await playFeature(book, deps).type('"Harbour Lamp" 4 dec 14:00');
  const asked = async () => (await listAsks(open.db, 'T1', ['asked'])).map((ask) => ask.coffeeId);
  const id = async (name: string) => (await coffee(name))?.id;
  expect(await asked()).toEqual([await id('Chirinos')]);
  const taken = await play.type('take kayanza 600g');
  expect(textsOf(taken)).toContain('T1 had held some of it');
  expect(new Set(await asked())).toEqual(new Set([await id('Chirinos'), await id('Kayanza Hill')]));
  await play.type('kayanza 600g roasted tue');
  await play.type('chirinos 600g roasted tue');
  expect(await asked()).toEqual([]);
  const [tasting] = await listTastings(open.db, 'T1', ['ready']);
  expect(tasting?.number).toBe(1);
  expect(textsOf(await play.type('kayanza'))).toMatch(/held for T1/);
});

test('sixty coffees with the longest names stay within Slack’s limits on every page', async () => {
  await sixtyCoffees(open.db);
  let page = await play.type('');
  for (let more = 0; more < 5; more += 1) page = await play.tap(page, more < 4 ? 'Next 12' : 'Next 3');
  expect(textsOf(page)).not.toContain('Next');
  const form = await play.tap(page, 'Put roasted on the shelf');
  expect(form.form?.callback_id).toBe('shelf.roasted');
});

test('nobody’s text can call the channel or style the message', async () => {
  const { message } = await play.type('add "<!channel> *boom*" base');
  expect(message?.text).toMatch(/^Added \*&lt;!channel&gt; \*\u2060boom\*\u2060\*\./);
  const mrkdwn = JSON.stringify(message?.blocks).matchAll(/"type":"mrkdwn","text":"([^"]*)"/g);
  for (const [, text = ''] of mrkdwn) expect(text).not.toContain('<!channel>');
});

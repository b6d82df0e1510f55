import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { digest } from '../../../src/commands/deciding/digest.js';
import { shelf } from '../../../src/commands/shelf/shelf.js';
import { DEFAULT_HOUSE } from '../../../src/domain/house/house-facts.js';
import { saveHouse } from '../../../src/store/house.js';
import { listLots } from '../../../src/store/shelf.js';
import { playFeature, textsOf } from '../common/play-feature.js';
import { BRAM, type House, house, INES, read, WORKSPACE } from '../roasting/ask-house.js';

/* Every way in which a roast comes in: the shelf's form and words, the ask's form, the group's form. */

const NOW = '2026-11-24T09:00:00Z';
const FRIDAY = '2026-12-04T14:00:00Z';

let shop: House;
beforeEach(async () => {
  shop = await house(NOW);
});
afterEach(async () => shop.close());

const atShelf = () => playFeature(shelf, shop.deps());
const atDigest = () => playFeature(digest, shop.deps());
const chirinos = () => shop.coffee('Chirinos').id;
const roasts = () => shop.db.selectFrom('roast').selectAll().where('struck_at', 'is', null).execute();
const green = async (id: number) =>
  (await shop.db.selectFrom('coffee').select('green_mg').where('id', '=', id).execute())[0]?.green_mg ?? 0;
const lots = async () => (await listLots(shop.db, WORKSPACE)).filter((lot) => lot.coffeeId === chirinos());
const askState = async (id = 1) => (await shop.asks()).find((ask) => ask.id === id);

async function shelfForm(values: Readonly<Record<string, string>>) {
  const form = await atShelf().act('shelf.roasted', JSON.stringify({ coffee: chirinos() }));
  return { form, answer: await atShelf().submit(form, values) };
}

async function groupForm(values: Readonly<Record<string, string>>) {
  const form = await atDigest().act('table.roasted', JSON.stringify({ recipe: 1 }));
  return { form, answer: await atDigest().submit(form, values) };
}

describe('what cannot be is refused at every door, and nothing is recorded', () => {
  test('600 g of green that became 100 g', async () => {
    const slip = { green: '600', roasted: '100' };
    expect((await shelfForm(slip)).answer.errors?.['roasted']).toContain('less than half');
    expect((await groupForm({ green: '10 kg', roasted: '1 kg' })).answer.errors?.['roasted']).toContain(
      'less than half',
    );
    await expect(atShelf().type('chirinos 100g roasted today from 600g green')).rejects.toThrow(/half/u);
    await shop.book(FRIDAY);
    await shop.accept(1);
    const asked = await shop.submit('ask.roasted', { ask: 1 }, slip, BRAM);
    expect(asked.errors?.['roasted']).toContain('less than half');
    expect(await roasts()).toEqual([]);
    // 400 g / (1 − 15.5 %) = 473.4 g, up to 480 g: the slip leaves no trace in the next charge.
    await shop.type('Chirinos 400g by 8 dec', INES);
    expect((await shop.asks()).map((ask) => ask.green_mg)).toContain(480_000);
  });

  test('a roast of the year 2020, or of a day to come', async () => {
    for (const day of ['2020-11-24', '2026-09-24', '2026-11-25']) {
      const values = { green: '600', roasted: '510', day };
      expect((await shelfForm(values)).answer.errors).toHaveProperty('day');
      expect((await groupForm({ green: '10 kg', roasted: '8.6 kg', day })).answer.errors).toHaveProperty(
        'day',
      );
    }
    await expect(atShelf().type('chirinos 510g roasted 24 nov 2020 from 600g green')).rejects.toThrow(
      /roast day lies between/u,
    );
    expect(await roasts()).toEqual([]);
  });
});

describe('a loss that is not the usual one', () => {
  test('brings the shelf form back with a box to tick, and counts once it is ticked', async () => {
    const slip = { green: '600', roasted: '420' };
    const { answer } = await shelfForm(slip);
    expect(JSON.stringify(answer.replaceForm)).toContain('A loss of 30 % is more than 2 points');
    expect(await roasts()).toEqual([]);
    // The form holds what was typed; a corrected weight needs no tick.
    await atShelf().submit(answer, { roasted: '510' });
    expect(await roasts()).toMatchObject([{ green_mg: 600_000, roasted_mg: 510_000, confirmed: 0 }]);
    const again = (await shelfForm(slip)).answer;
    await atShelf().submit(again, { sure: ['yes'] });
    expect((await roasts())[1]).toMatchObject({ roasted_mg: 420_000, confirmed: 1 });
  });

  test('brings the group’s form back too', async () => {
    const { answer } = await groupForm({ green: '10 kg', roasted: '7 kg' });
    expect(JSON.stringify(answer.replaceForm)).toContain('A loss of 30 % is more than 2 points');
    expect(await roasts()).toEqual([]);
    const done = await atDigest().submit(answer, { sure: ['yes'] });
    expect(textsOf(done)).toContain('10 kg green in, 7 kg out, 30 % loss');
    expect(await roasts()).toMatchObject([{ drum: '15 kg drum', confirmed: 1 }]);
  });
});

describe('the drum', () => {
  test('follows from the green, and a sample roaster’s batch never sets the production drum’s loss', async () => {
    // 600 g fit the sample roaster alone; 17 % is within 2 points of 15.5 %.
    const said = textsOf(await atShelf().type('chirinos 498g roasted today from 600g green'));
    expect(said).toContain('That goes for the 1 kg sample roaster.');
    expect(await roasts()).toMatchObject([{ drum: '1 kg sample roaster' }]);
    await shop.type('Chirinos 400g by 8 dec', INES);
    await shop.type('Chirinos 8kg by 3 dec', INES);
    const asks = (await shop.asks()).map((ask) => [ask.drum, ask.loss_bp]);
    expect(asks).toEqual([
      ['1 kg sample roaster', 1700],
      ['15 kg drum', 1550],
    ]);
  });

  test('is asked for when several take that much green', async () => {
    const drums = DEFAULT_HOUSE.drums.map((drum) => ({ ...drum, minimumChargeMg: 50_000 }));
    await saveHouse(shop.db, WORKSPACE, { drums }, INES, new Date(NOW));
    const typed = await atShelf().type('chirinos 510g roasted today from 600g green');
    expect(textsOf(typed)).toContain('In which drum was it roasted?');
    await atShelf().tap(typed, 'In the 15 kg drum');
    const { answer } = await shelfForm({ green: '600', roasted: '510' });
    expect(JSON.stringify(answer.replaceForm)).toContain('Roasted in which drum?');
    await atShelf().submit(answer, { drum: '1 kg sample roaster' });
    expect((await roasts()).map((roast) => roast.drum)).toEqual(['15 kg drum', '1 kg sample roaster']);
  });

  test('that was chosen is remembered when the loss is asked about next, and so is the tick', async () => {
    const drums = DEFAULT_HOUSE.drums.map((drum) => ({ ...drum, minimumChargeMg: 50_000 }));
    await saveHouse(shop.db, WORKSPACE, { drums }, INES, new Date(NOW));
    const { answer } = await shelfForm({ green: '600', roasted: '420' });
    const ticked = await atShelf().submit(answer, { sure: ['yes'] });
    expect(JSON.stringify(ticked.replaceForm)).toContain('Roasted in which drum?');
    await atShelf().submit(ticked, { drum: '15 kg drum' });
    expect(await roasts()).toMatchObject([{ drum: '15 kg drum', confirmed: 1 }]);
    const again = (await shelfForm({ green: '600', roasted: '420' })).answer;
    const chosen = await atShelf().submit(again, { drum: '1 kg sample roaster' });
    expect(JSON.stringify(chosen.replaceForm)).toContain('A loss of 30 %');
    await atShelf().submit(chosen, { sure: ['yes'] });
    expect((await roasts())[1]).toMatchObject({ drum: '1 kg sample roaster', confirmed: 1 });
  });

  test('of an ask is the one it was planned for, unless another one takes so much green', async () => {
    await shop.book(FRIDAY);
    await shop.accept(1);
    await shop.submit('ask.roasted', { ask: 1 }, { green: '220', roasted: '186' }, BRAM);
    await shop.type('Chirinos 400g by 8 dec', INES);
    await shop.submit('ask.roasted', { ask: 2 }, { green: '4 kg', roasted: '3.4 kg' }, BRAM);
    expect((await roasts()).map((roast) => roast.drum)).toEqual(['1 kg sample roaster', '15 kg drum']);
  });
});

test('a roast that is reported twice from two open forms is recorded once', async () => {
  await shop.book(FRIDAY);
  await shop.accept(1);
  const values = { green: '220', roasted: '186' };
  await shop.submit('ask.roasted', { ask: 1 }, values, BRAM);
  await expect(shop.submit('ask.roasted', { ask: 1 }, values, BRAM)).rejects.toThrow(/roasted already/u);
});

describe('a wrong entry on the coffee’s card', () => {
  const record = async () => {
    await shop.book(FRIDAY);
    await shop.accept(1);
    shop.setTime('2026-12-03T16:00:00Z');
    await shop.submit('ask.roasted', { ask: 1 }, { green: '220', roasted: '186', day: '2026-12-03' }, BRAM);
  };
  const correct = async () => atShelf().tap(await atShelf().type('chirinos'), 'Correct');

  test('is corrected: green, lot, loss and ask follow', async () => {
    await record();
    const form = await correct();
    expect(JSON.stringify(form.form)).toContain('"initial_value":"220 g"');
    const done = textsOf(await atShelf().submit(form, { green: '240 g', roasted: '203 g' }));
    // (240 − 203) / 240 = 15.42 %.
    expect(done).toContain('Corrected. It lost 15.42 %; from now on I reckon with 15.42 %.');
    expect(await green(chirinos())).toBe(60_000_000 - 240_000);
    expect((await lots()).map((lot) => lot.mg)).toEqual([203_000]);
    expect(await roasts()).toMatchObject([{ green_mg: 240_000, roasted_mg: 203_000 }]);
    expect(await askState()).toMatchObject({ state: 'roasted', roast_id: (await roasts())[0]?.id });
    expect(read((await shop.notices('ask:1'))[0])).toContain('240 g green in, 203 g out');
  });

  test('is corrected after some of it was used: what was used stays used, and tables keep what they hold', async () => {
    await record();
    const [lot] = await lots();
    await atShelf().type('take chirinos 20g');
    await atShelf().submit(await correct(), { roasted: '190 g' });
    expect(await lots()).toMatchObject([{ id: lot?.id, mg: 170_000 }]);
    const held = await shop.db
      .selectFrom('reservation')
      .select('mg')
      .where('lot_id', '=', lot?.id ?? 0)
      .execute();
    expect(held[0]?.mg).toBeGreaterThan(0);
  });

  test('is struck: its green is back, its lot is gone, and the ask is on the plan again', async () => {
    await record();
    await atShelf().submit(await correct(), { what: 'strike' });
    expect(await green(chirinos())).toBe(60_000_000);
    expect(await lots()).toEqual([]);
    expect(await roasts()).toEqual([]);
    expect(await askState()).toMatchObject({ state: 'accepted', roast_id: null });
    expect(read((await shop.notices('ask:1'))[0])).toContain('*On the plan for');
    await shop.submit('ask.roasted', { ask: 1 }, { green: '220', roasted: '187', day: '2026-12-03' }, BRAM);
    expect(await askState()).toMatchObject({ state: 'roasted' });
  });

  test('struck after its day leaves the ask missed, and the host is told with the ways out', async () => {
    await record();
    shop.setTime('2026-12-04T09:00:00Z');
    await atShelf().submit(await correct(), { what: 'strike' });
    expect((await askState())?.state).toBe('missed');
    const told = (await shop.notices('ask:1')).find((notice) => notice.key.startsWith('ask:1:missed'));
    expect(read(told)).toContain('[Drop Chirinos]');
  });

  test('of an ask is its roaster’s or a steward’s to correct', async () => {
    await record();
    const another = playFeature(shelf, shop.deps(), 'U0WREN');
    const form = await another.tap(await another.type('chirinos'), 'Correct');
    await expect(another.submit(form, { roasted: '190 g' })).rejects.toThrow(/^That is for/);
    await expect(another.submit(form, { what: 'strike' })).rejects.toThrow(/^That is for/);
    expect(await roasts()).toMatchObject([{ roasted_mg: 186_000 }]);
    const bram = playFeature(shelf, shop.deps(), BRAM);
    await bram.submit(await bram.tap(await bram.type('chirinos'), 'Correct'), { roasted: '187 g' });
    expect(await roasts()).toMatchObject([{ roasted_mg: 187_000 }]);
  });

  test('cannot be corrected twice from two open forms', async () => {
    await record();
    const [first, second] = [await correct(), await correct()];
    await atShelf().submit(first, { roasted: '187 g' });
    await expect(atShelf().submit(second, { roasted: '188 g' })).rejects.toThrow(/meanwhile/u);
  });

  test('of a group gives each coffee its green back', async () => {
    await groupForm({ green: '10 kg', roasted: '8.6 kg' });
    const left = async () => (await green(chirinos())) + (await green(shop.coffee('Kayanza Hill').id));
    expect(await left()).toBe(105_000_000 - 10_000_000);
    const card = await atShelf().type('kayanza');
    expect(textsOf(card)).toContain('Roasted with others');
    await atShelf().submit(await atShelf().tap(card, 'Correct'), { what: 'strike' });
    expect(await left()).toBe(105_000_000);
  });
});

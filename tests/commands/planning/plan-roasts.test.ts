import { afterEach, describe, expect, test } from 'vitest';
import { cancelTasting, moveTasting } from '../../../src/commands/booking/change-booking.js';
import { loadReadiness } from '../../../src/commands/planning/load-plan.js';
import { planTableRoasts, replanRoasts, useTableCoffee } from '../../../src/commands/planning/plan-roasts.js';
import { saveHouse } from '../../../src/store/house.js';
import { insertLot, listLots, listReservations } from '../../../src/store/shelf.js';
import { findTasting } from '../../../src/store/tastings.js';
import { BRAM, type House, house, INES, NOOR, read, WORKSPACE } from '../roasting/ask-house.js';

let roastery: House | undefined;
afterEach(async () => roastery?.close());

/** A Tuesday; the seeded lots are of this day and good for ten days and more. */
const NOW = '2026-11-24T09:00:00Z';
const FRIDAY = '2026-12-04T14:00:00Z';

const context = (who = INES, now = NOW) => ({ workspace: WORKSPACE, now: new Date(now), who });

async function tasting(shop: House, id: number) {
  const found = await findTasting(shop.db, WORKSPACE, id);
  if (!found) throw new Error(`no tasting ${id}`);
  return found;
}

describe('a booking', () => {
  test('asks for the coffee that does not exist alone and sets the others aside', async () => {
    roastery = await house(NOW);
    const { plan } = await roastery.book(FRIDAY, INES, [[2, 1, 1]]);
    // By hand, three cups hold Chirinos: component, 50/30/20 and 2:1:1. Dose 207 mL × 55 g/L = 11.4 g, two
    // bowls each. Component with two pours to come: (2 + 2) × 11.4 = 45.6 g; blends: 2 × 5.7 + 2 × 5.7 = 22.8 g.
    // Purge 5 + 2.5 + 2.5 = 10 g. (45.6 + 22.8 + 10) × 2 + 50 = 206.8 g. Formula: cups × dose × 2 + 50 g,
    // common practice, no source.
    expect(plan.coffees.map((coffee) => [coffee.name, coffee.state, coffee.neededMg])).toEqual([
      ['Chirinos', 'asked', 206_800],
      ['Kayanza Hill', 'on the shelf', 182_000],
      ['Nubosa Natural', 'on the shelf', 176_000],
    ]);
    const [ask, ...more] = await roastery.asks();
    expect(more).toEqual([]);
    // Green = roasted / (1 − loss): 206.8 / 0.845 = 244.7 g, up to the drum scale's 10 g.
    expect(ask).toMatchObject({ roaster: BRAM, green_mg: 250_000, loss_bp: 1550, roast_day: '2026-12-03' });
    expect((await listReservations(roastery.db, WORKSPACE)).map((row) => row.mg)).toEqual([182_000, 176_000]);
  });

  test('planned twice writes nothing the second time', async () => {
    roastery = await house(NOW);
    const { tastingId } = await roastery.book(FRIDAY);
    const before = await roastery.snapshot();
    await planTableRoasts(roastery.db, context(), tastingId);
    expect(await roastery.snapshot()).toEqual(before);
    expect(before.changes).toBe(1);
  });

  test('with less than the usual notice is a favour, and the roaster is told so', async () => {
    roastery = await house(NOW);
    await roastery.book('2026-11-27T14:00:00Z');
    const [ask] = await roastery.asks();
    expect(ask).toMatchObject({ favour: 1, roast_day: '2026-11-26' });
    const [notice] = await roastery.notices('ask:1');
    expect(read(notice)).toContain('*Short notice*: asked 2 days ahead, where the house gives 7 days');
  });

  test('that no roast day fits asks nobody and offers the nearest dates, another coffee or dropping it', async () => {
    roastery = await house(NOW);
    await insertLot(roastery.db, {
      ...{ workspace: WORKSPACE, coffeeId: await roastery.addCoffee('Old Pier', 'base'), mg: 500_000 },
      ...{ roastedOn: '2026-11-20', bestBy: null, roastId: null, who: INES, at: new Date(NOW) },
    });
    // Wednesday: the next roast day, Thursday, comes after it, and Tuesday's cut-off has passed.
    const { plan, tastingId } = await roastery.book('2026-11-25T14:00:00Z');
    expect(plan.coffees[0]).toMatchObject({ name: 'Chirinos', state: 'missing' });
    expect(await roastery.asks()).toEqual([]);
    expect(plan.nearest[0]?.start).toEqual(new Date('2026-11-27T14:00:00Z'));
    const [stuck] = await roastery.notices(`ask:tasting-${tastingId}`);
    expect(stuck).toMatchObject({ place: { kind: 'direct', person: INES } });
    expect(read(stuck)).toMatch(
      /\[Move T1 to Fri 27 Nov, 14:00\]\n.*\n.*\n\[Use Old Pier instead\]\n\[Drop Chirinos\]/u,
    );
  });
});

describe('several tables', () => {
  test('wanting one coffee on one roast day share one charge, and each host is told', async () => {
    roastery = await house(NOW);
    await roastery.book(FRIDAY);
    await roastery.book('2026-12-04T16:00:00Z', NOOR);
    const chirinos = (await roastery.asks()).filter(
      (ask) => ask.coffee_id === roastery?.coffee('Chirinos').id,
    );
    expect(chirinos).toHaveLength(1);
    const wanted = await roastery.db.selectFrom('ask_for').selectAll().where('ask_id', '=', 1).execute();
    expect(wanted.map((entry) => entry.tasting_id)).toEqual([1, 2]);
    const notices = await roastery.notices('ask:1');
    const receipt = notices.find((notice) => notice.key === `ask:1:for:${INES}`);
    expect(read(receipt)).toContain('roasted together with T2');
    expect(notices.some((notice) => notice.key === `ask:1:for:${NOOR}`)).toBe(true);
  });

  test('compete for a lot: the first booked is served, the other is told at once and asks for the rest', async () => {
    roastery = await house(NOW);
    const kayanza = roastery.coffee('Kayanza Hill').id;
    await roastery.book(FRIDAY, INES, [[2, 1, 1]], 3);
    await roastery.book(FRIDAY, NOOR, [[2, 1, 1]], 2);
    const lot = (await listLots(roastery.db, WORKSPACE)).find((one) => one.coffeeId === kayanza);
    const held = (await listReservations(roastery.db, WORKSPACE)).filter((row) => row.lotId === lot?.id);
    expect(held.map((row) => row.tastingId)).toEqual([1, 2]);
    expect(held.reduce((sum, row) => sum + row.mg, 0)).toBeLessThanOrEqual(600_000);
    const second = await loadReadiness(roastery.db, WORKSPACE, await tasting(roastery, 2), new Date(NOW));
    const coffee = second.coffees.find((one) => one.coffeeId === kayanza);
    expect(coffee?.state).toBe('asked');
    const lost = (await roastery.notices('ask:tasting-2')).find((notice) => notice.key.includes(':lost:'));
    expect(lost).toMatchObject({ place: { person: NOOR } });
    expect(read(lost)).toContain('T1, booked before *T2*, holds it');
  });

  test('that free the shelf give it to the next, whose ask is withdrawn', async () => {
    roastery = await house(NOW);
    await roastery.book(FRIDAY, INES, [[2, 1, 1]], 3);
    await roastery.book(FRIDAY, NOOR, [[2, 1, 1]], 1);
    const kayanza = roastery.coffee('Kayanza Hill').id;
    await cancelTasting(roastery.db, context(), await tasting(roastery, 1));
    const left = (await roastery.asks()).filter((ask) => ask.coffee_id === kayanza);
    expect(left.every((ask) => ask.state === 'withdrawn')).toBe(true);
    expect(new Set((await listReservations(roastery.db, WORKSPACE)).map((row) => row.tastingId))).toEqual(
      new Set([2]),
    );
  });
});

test('a few spare grams short of all that is kept ready, nobody is asked to roast', async () => {
  roastery = await house(NOW);
  await roastery.book(FRIDAY, INES, [[2, 1, 1]], 3);
  const { plan } = await roastery.book(FRIDAY, NOOR, [[2, 1, 1]], 1);
  // 446 g of 600 g of Kayanza Hill are T1's; 154 g are left for 182 g wanted, 50 g of them spare.
  expect(plan.coffees[1]).toMatchObject({ name: 'Kayanza Hill', state: 'on the shelf', onShelfMg: 154_000 });
  expect((await roastery.asks()).every((ask) => ask.coffee_id === roastery?.coffee('Chirinos').id)).toBe(
    true,
  );
});

describe('a tasting', () => {
  test('that is cancelled frees what it holds and withdraws its ask', async () => {
    roastery = await house(NOW);
    await roastery.book(FRIDAY);
    await cancelTasting(roastery.db, context(), await tasting(roastery, 1));
    expect((await roastery.asks()).map((ask) => ask.state)).toEqual(['withdrawn']);
    expect(await listReservations(roastery.db, WORKSPACE)).toEqual([]);
    expect(read((await roastery.notices('ask:1'))[0])).toContain('*No longer needed*');
  });

  test('moved twice ends where moving it once does', async () => {
    const states = [];
    for (const stops of [
      ['2026-12-08T14:00:00Z'],
      ['2026-12-18T14:00:00Z', '2026-12-01T14:00:00Z', '2026-12-08T14:00:00Z'],
    ]) {
      const shop = await house(NOW);
      await shop.book(FRIDAY);
      await shop.book('2026-12-04T16:00:00Z', NOOR);
      for (const stop of stops) await moveTasting(shop.db, context(), await tasting(shop, 1), new Date(stop));
      const { asks, held } = await shop.snapshot();
      states.push({
        held,
        asks: asks
          .filter((ask) => ask.state === 'asked')
          .map(({ coffee_id, roast_day, green_mg, over_mg }) => ({ coffee_id, roast_day, green_mg, over_mg }))
          .sort((a, b) => a.roast_day.localeCompare(b.roast_day) || a.coffee_id - b.coffee_id),
      });
      await shop.close();
    }
    expect(states[1]).toEqual(states[0]);
    expect(states[0]?.asks.length).toBeGreaterThan(0);
  });

  test('that moves within the rest of an accepted roast leaves it on the plan', async () => {
    roastery = await house(NOW);
    await roastery.book(FRIDAY);
    await roastery.accept(1);
    await moveTasting(roastery.db, context(), await tasting(roastery, 1), new Date('2026-12-07T14:00:00Z'));
    expect(await roastery.asks()).toMatchObject([{ state: 'accepted', roast_day: '2026-12-03' }]);
  });

  test('that needs more than an accepted charge gives has the roaster asked once more', async () => {
    roastery = await house(NOW);
    await roastery.book(FRIDAY);
    await roastery.accept(1);
    await roastery.db.updateTable('tasting').set({ tables: 2 }).where('id', '=', 1).execute();
    await planTableRoasts(roastery.db, context(), 1);
    const [ask] = await roastery.asks();
    expect(ask?.state).toBe('asked');
    expect(read((await roastery.notices('ask:1'))[0])).toContain(
      'You had accepted; please answer once more.',
    );
  });

  test('is ready once all its coffees stand on the shelf, and not any more when one is taken', async () => {
    roastery = await house(NOW);
    await roastery.book(FRIDAY);
    const id = await insertLot(roastery.db, {
      ...{ workspace: WORKSPACE, coffeeId: roastery.coffee('Chirinos').id, mg: 300_000 },
      ...{ roastedOn: '2026-11-24', bestBy: null, roastId: null, who: INES, at: new Date(NOW) },
    });
    await replanRoasts(roastery.db, context());
    expect((await tasting(roastery, 1)).state).toBe('ready');
    expect((await roastery.asks()).map((ask) => ask.state)).toEqual(['withdrawn']);
    await roastery.db.updateTable('lot').set({ mg: 20_000 }).where('id', '=', id).execute();
    await replanRoasts(roastery.db, context());
    expect((await tasting(roastery, 1)).state).toBe('booked');
    expect((await roastery.asks()).at(-1)).toMatchObject({ state: 'asked' });
  });

  test('that closed has used what its cups took, and the rest is free again', async () => {
    roastery = await house(NOW);
    await roastery.book(FRIDAY);
    const nubosa = roastery.coffee('Nubosa Natural').id;
    await useTableCoffee(roastery.db, context(), 1);
    const lot = (await listLots(roastery.db, WORKSPACE)).find((one) => one.coffeeId === nubosa);
    // Component 4 × 11.4 = 45.6 g, blend 2 × 2.3 = 4.6 g (20 % of 11.4 g, to 0.1 g), purge 5 + 1 g: 56.2 g.
    expect(lot?.mg).toBe(600_000 - 56_200);
    expect(await listReservations(roastery.db, WORKSPACE)).toEqual([]);
  });
});

test('a drum’s minimum charge is asked for and what will be over is said', async () => {
  roastery = await house(NOW);
  const drum = { name: '15 kg drum', capacityMg: 15_000_000, minimumChargeMg: 3_750_000, usableShare: 0.8 };
  await saveHouse(roastery.db, WORKSPACE, { drums: [{ ...drum, kind: 'production' }] }, INES, new Date(NOW));
  await roastery.book(FRIDAY);
  // 3750 g × (1 − 0.155) = 3168.75 g, to the 10 g of the drum's scale 3170 g.
  expect(await roastery.asks()).toMatchObject([{ green_mg: 3_750_000, roasted_mg: 3_170_000 }]);
  expect(read((await roastery.notices('ask:1'))[0])).toMatch(
    /3750 g is the least the 15 kg drum takes|3\.75 kg is the least/u,
  );
});

test('without a named roaster the ask comes to the host with how to name one', async () => {
  roastery = await house(NOW);
  await saveHouse(roastery.db, WORKSPACE, { roasterPerson: null }, INES, new Date(NOW));
  await roastery.book(FRIDAY);
  const [notice] = await roastery.notices('ask:1');
  expect(notice).toMatchObject({ place: { kind: 'direct', person: INES } });
  expect(read(notice)).toContain('/spoon house roaster @name');
});

import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { askReminderDue } from '../../../src/commands/roasting/ask-notices.js';
import { listAskChanges } from '../../../src/store/asks.js';
import { listCups } from '../../../src/store/cups.js';
import { fireReminder, listDue } from '../../../src/store/reminders.js';
import { listLots } from '../../../src/store/shelf.js';
import { findTasting } from '../../../src/store/tastings.js';
import { BRAM, type House, house, INES, NOOR, read, WORKSPACE } from './ask-house.js';

const NOW = '2026-11-24T09:00:00Z';
const FRIDAY = '2026-12-04T14:00:00Z';
const WREN = 'U0WREN';

let shop: House;
beforeEach(async () => {
  shop = await house(NOW);
});
afterEach(async () => shop.close());

const state = async (id = 1) => (await shop.asks()).find((ask) => ask.id === id);
const notice = async (key: string, subject = 'ask:1') =>
  read((await shop.notices(subject)).find((one) => one.key.startsWith(key)));
const refusal = (message: RegExp) =>
  expect.objectContaining({ name: 'UserError', message: expect.stringMatching(message) });

describe('the roaster', () => {
  test('accepts with one tap; the message then says what is on the plan', async () => {
    await shop.book(FRIDAY);
    await shop.accept(1);
    await shop.accept(1);
    expect((await state())?.state).toBe('accepted');
    expect(await notice('ask:1')).toContain('✔ *On the plan for Thursday 3 December*');
    const changes = await listAskChanges(shop.db, WORKSPACE, 1);
    expect(changes.map((change) => [change.who, change.from, change.to])).toEqual([
      [INES, null, 'asked'],
      [BRAM, 'asked', 'accepted'],
    ]);
    expect(changes[1]?.at).toEqual(new Date(NOW));
  });

  test('alone may answer, beside a steward; others are turned away and nothing changes', async () => {
    await shop.book(FRIDAY, NOOR);
    await expect(shop.tap('ask.accept', { ask: 1 }, NOOR)).rejects.toEqual(refusal(/^That is for/));
    await expect(shop.tap('ask.roasted', { ask: 1 }, WREN)).rejects.toEqual(refusal(/^That is for/));
    await expect(shop.submit('ask.decline', { ask: 1 }, {}, WREN)).rejects.toEqual(refusal(/^That is for/));
    expect((await state())?.state).toBe('asked');
    await shop.tap('ask.accept', { ask: 1 }, INES);
    expect((await state())?.state).toBe('accepted');
  });

  test('of another workspace finds nothing behind a forged id', async () => {
    await shop.book(FRIDAY);
    await expect(shop.tap('ask.accept', { ask: 1 }, BRAM, 'T2')).rejects.toEqual(
      refusal(/^I cannot find that/),
    );
    await expect(shop.tap('ask.drop', { tasting: 1, coffee: 1 }, INES, 'T2')).rejects.toEqual(
      refusal(/^I cannot find that/),
    );
    await expect(shop.tap('ask.accept', { ask: 'x' }, BRAM)).rejects.toEqual(
      refusal(/from an older message/),
    );
    expect((await state())?.state).toBe('asked');
  });

  test('offers another day from those that fit; the host agrees and the plan follows', async () => {
    await shop.book(FRIDAY);
    const { form } = await shop.tap('ask.offer', { ask: 1 }, BRAM);
    expect(JSON.stringify(form)).toContain('Tuesday 1 December');
    await shop.submit('ask.offer', { ask: 1 }, { day: '2026-12-01' }, BRAM);
    expect(await state()).toMatchObject({
      state: 'offered',
      offered_day: '2026-12-01',
      roast_day: '2026-12-03',
    });
    const offered = await notice('ask:1:offered');
    expect(offered).toContain('*Tuesday 1 December*');
    expect(offered).toContain('[Agree to Tuesday 1 December]');
    await expect(shop.tap('ask.agree', { ask: 1 }, WREN)).rejects.toEqual(refusal(/^That is for/));
    await shop.tap('ask.agree', { ask: 1, day: '2026-12-01' }, INES);
    expect(await state()).toMatchObject({ state: 'accepted', roast_day: '2026-12-01', offered_day: null });
    expect(await notice('ask:1:offered')).not.toContain('[');
  });

  test('offers a day after the table: the host is offered dates that fit and moves with one tap', async () => {
    await shop.book(FRIDAY);
    await shop.submit('ask.offer', { ask: 1 }, { day: 'other', other: '2026-12-08' }, BRAM);
    expect(await notice('ask:1:offered')).toContain('[Move T1 to Wed 9 Dec, 14:00]');
    await shop.tap('ask.move', { tasting: 1, coffee: 1, ask: 1, at: '2026-12-09T14:00:00.000Z' }, INES);
    expect(await state()).toMatchObject({ state: 'accepted', roast_day: '2026-12-08' });
    const moved = await findTasting(shop.db, WORKSPACE, 1);
    expect(moved?.startsAt).toEqual(new Date('2026-12-09T14:00:00Z'));
  });

  test('offers a day that suits one of two tables: the other is not asked for the refused day again', async () => {
    await shop.book(FRIDAY);
    await shop.book('2026-12-10T14:00:00Z', NOOR);
    await shop.tap('ask.withdraw', { ask: 2 }, NOOR);
    await shop.submit('ask.offer', { ask: 1 }, { day: 'other', other: '2026-12-08' }, BRAM);
    await shop.tap('ask.withdraw', { ask: 1 }, INES);
    expect((await shop.asks()).some((ask) => ask.state === 'asked' && ask.coffee_id === 1)).toBe(false);
    expect(await notice('ask:tasting-1:stuck', 'ask:tasting-1')).toContain('[Ask again]');
  });

  test('offers and the host withdraws: nobody is asked for that day again by itself', async () => {
    await shop.book(FRIDAY);
    await shop.submit('ask.offer', { ask: 1 }, { day: '2026-12-01' }, BRAM);
    await shop.tap('ask.withdraw', { ask: 1 }, INES);
    expect((await shop.asks()).map((ask) => ask.state)).toEqual(['withdrawn']);
    expect(await notice('ask:1')).toContain('*No longer needed*');
    const stuck = await notice('ask:tasting-1:stuck', 'ask:tasting-1');
    expect(stuck).toContain('no roast is under way for *Chirinos*');
    expect(stuck).toContain('[Ask again]');
    await shop.tap('ask.again', { tasting: 1, coffee: 1 }, INES);
    expect((await shop.asks()).map((ask) => ask.state)).toEqual(['withdrawn', 'asked']);
  });
});

describe('a declined ask', () => {
  const decline = async () => {
    await shop.book(FRIDAY, INES, [[2, 1, 1]]);
    await shop.submit('ask.decline', { ask: 1 }, { because: 'The drum is full' }, BRAM);
  };

  test('tells the host why, with the ways out, and is not asked again by itself', async () => {
    await decline();
    expect((await shop.asks()).map((ask) => ask.state)).toEqual(['declined']);
    const told = await notice('ask:1:decline');
    expect(told).toContain('cannot roast *Chirinos* for T1 on Thursday 3 December: “The drum is full”');
    expect(told).toMatch(/\[Move T1 to [A-Z]/u);
    expect(told).toContain('[Drop Chirinos]');
  });

  test('moves the tasting to a date whose roast day is another one', async () => {
    await decline();
    const all = await shop.notices('ask:1');
    const first = all.find((one) => one.key.startsWith('ask:1:decline'));
    const value = /"at\\?":\\?"([^"\\]+)/u.exec(JSON.stringify(first))?.[1] ?? '';
    await shop.tap('ask.move', { tasting: 1, coffee: 1, ask: 1, at: value }, INES);
    const [, fresh] = await shop.asks();
    expect(fresh?.state).toBe('asked');
    expect(fresh?.roast_day).not.toBe('2026-12-03');
    expect(await notice('ask:1:decline')).not.toContain('[Move');
  });

  test('drops the cups that cannot be made without it, unless nothing is left to compare', async () => {
    await decline();
    await shop.tap('ask.drop', { tasting: 1, coffee: 1 }, INES);
    expect((await listCups(shop.db, 1)).map((cup) => cup.kind)).toEqual(['component', 'component']);
    expect((await findTasting(shop.db, WORKSPACE, 1))?.state).toBe('ready');
    await expect(shop.tap('ask.drop', { tasting: 1, coffee: 2 }, INES)).rejects.toEqual(
      refusal(/fewer than/),
    );
  });

  test('uses the nearest coffee on the shelf, as a blend of its own', async () => {
    const other = await shop.addCoffee('Old Pier', 'base');
    await shop.putOnShelf(other, 400_000, '2026-11-24');
    await decline();
    expect(await notice('ask:1:decline')).toContain('[Use Old Pier instead]');
    await shop.tap('ask.nearest', { tasting: 1, coffee: 1, other }, INES);
    const cups = await listCups(shop.db, 1);
    expect(cups.flatMap((cup) => cup.parts.map((part) => part.coffeeId))).not.toContain(1);
    expect((await findTasting(shop.db, WORKSPACE, 1))?.state).toBe('ready');
    const names = await shop.db.selectFrom('recipe').select('name').orderBy('id').execute();
    expect(names.map((row) => row.name)).toEqual(['Harbour Lamp', 'Harbour Lamp, Old Pier for Chirinos']);
  });

  test('leaves its ways out to the host and the stewards', async () => {
    await decline();
    await expect(shop.tap('ask.drop', { tasting: 1, coffee: 1 }, WREN)).rejects.toEqual(
      refusal(/^That is for/),
    );
    await expect(
      shop.tap('ask.move', { tasting: 1, coffee: 1, at: '2026-12-09T14:00:00.000Z' }, BRAM),
    ).rejects.toEqual(refusal(/^That is for/));
  });
});

describe('what came out', () => {
  const report = async (green: string, roasted: string) => {
    await shop.book(FRIDAY);
    await shop.accept(1);
    shop.setTime('2026-12-03T16:00:00Z');
    return shop.submit('ask.roasted', { ask: 1 }, { green, roasted, day: '2026-12-03', colour: '61' }, BRAM);
  };

  test('stands on the shelf for its table, the loss is learnt and the green is gone', async () => {
    await report('220', '187 g');
    expect(await state()).toMatchObject({ state: 'roasted', roast_id: 1 });
    const lot = (await listLots(shop.db, WORKSPACE)).find((one) => one.coffeeId === 1);
    expect(lot).toMatchObject({ mg: 187_000, roastedOn: '2026-12-03' });
    expect((await findTasting(shop.db, WORKSPACE, 1))?.state).toBe('ready');
    // (220 − 187) / 220 = 15 %.
    const shown = await notice('ask:1');
    expect(shown).toContain('220 g green in, 187 g out, 15 % loss, colour 61');
    expect(shown).not.toContain('more than 2 points');
    const green = await shop.db.selectFrom('coffee').select('green_mg').where('id', '=', 1).execute();
    expect(green).toEqual([{ green_mg: 60_000_000 - 220_000 }]);
    expect(await shop.asks()).toHaveLength(1);
  });

  test('more than 2 points from the usual is asked about before it counts, and pointed out', async () => {
    // (220 − 180) / 220 = 18.18 %, against 15.5 % kept with the coffee.
    const { replaceForm } = await report('220', '180');
    expect(JSON.stringify(replaceForm)).toContain('more than 2 points from the 15.5 %');
    expect((await state())?.state).toBe('accepted');
    const sure = { green: '220', roasted: '180', day: '2026-12-03', sure: 'yes' };
    await shop.submit('ask.roasted', { ask: 1 }, sure, BRAM);
    expect((await state())?.state).toBe('roasted');
    expect(await notice('ask:1')).toContain('more than 2 points from the 15.5 %');
  });

  test('that cannot be is refused in the form and nothing is recorded', async () => {
    expect(await report('180', '220')).toMatchObject({
      errors: { roasted: expect.stringContaining('swapped') },
    });
    expect((await state())?.state).toBe('accepted');
    expect(await shop.db.selectFrom('roast').selectAll().execute()).toEqual([]);
  });

  test('a little under all that is kept ready still makes the table; nobody roasts again for spare grams', async () => {
    // Needed 179 g with everything twice and 50 g spare; the cups themselves take 64.5 g.
    await report('100', '84');
    expect((await findTasting(shop.db, WORKSPACE, 1))?.state).toBe('ready');
    expect(await shop.asks()).toHaveLength(1);
  });

  test('less than the cups take is told to the host when no roast day is left', async () => {
    await report('70', '59');
    expect(await shop.asks()).toHaveLength(1);
    const stuck = await notice('ask:tasting-1:stuck', 'ask:tasting-1');
    expect(stuck).toContain('no roast is under way for *Chirinos*');
    expect(stuck).toMatch(/\[Move T1 to/u);
  });

  test('nothing: the roast is missed and the host is told with the ways out', async () => {
    await shop.book(FRIDAY);
    await shop.accept(1);
    shop.setTime('2026-12-03T17:00:00Z');
    await shop.tap('ask.missed', { ask: 1 }, BRAM);
    expect((await shop.asks()).map((ask) => ask.state)).toEqual(['missed']);
    const told = await notice('ask:1:missed');
    expect(told).toContain('*Chirinos* for T1 was *not roasted* on Thursday 3 December');
    expect(told).toMatch(/\[Move T1 to/u);
    await shop.submit('ask.roasted', { ask: 1 }, { green: '220', roasted: '186', day: '2026-12-03' }, BRAM);
    expect(await notice('ask:1:missed')).toContain('It was roasted on Thursday 3 December, 186 g came out');
    expect((await findTasting(shop.db, WORKSPACE, 1))?.state).toBe('ready');
  });
});

describe('reminders', () => {
  const passTo = async (instant: string) => {
    shop.setTime(instant);
    const kinds: string[] = [];
    for (const due of await listDue(shop.db, new Date(instant), 50)) {
      if (!due.subject.startsWith('ask:') || !(await fireReminder(shop.db, due, new Date(instant)))) continue;
      kinds.push(due.kind);
      await askReminderDue(shop.deps(), due);
    }
    return kinds;
  };

  test('an unanswered ask nudges the roaster after a day and tells the host before the last call', async () => {
    await shop.book(FRIDAY);
    expect(await passTo('2026-11-25T08:59:00Z')).toEqual([]);
    expect(await passTo('2026-11-25T09:00:00Z')).toEqual(['ask unanswered']);
    expect(await notice('ask:1:nudge')).toContain('still waiting for your answer');
    await passTo('2026-12-02T14:00:00Z');
    expect(await notice(`ask:1:unanswered`)).toContain('*not answered yet*');
    await shop.accept(1);
    expect(await notice(`ask:1:unanswered`)).toContain('It is on the plan for Thursday 3 December');
  });

  test('an accepted roast is brought to mind the afternoon before, and its report asked for', async () => {
    await shop.book(FRIDAY);
    await shop.accept(1);
    expect(await passTo('2026-12-02T15:00:00Z')).toEqual(['ask day before']);
    expect(await notice('ask:1:soon')).toContain('[Roasted]');
    await passTo('2026-12-03T18:00:00Z');
    expect(await notice('ask:1:report')).toContain('was it roasted?');
    await passTo('2026-12-04T08:00:00Z');
    expect(await notice('ask:1:late')).toContain('*nothing is recorded yet*');
    await passTo('2026-12-05T08:00:00Z');
    expect((await state())?.state).toBe('missed');
  });

  test('an ask nobody answered lapses after its day and the host hears of it', async () => {
    await shop.book('2026-12-09T14:00:00Z');
    const first = (await state())?.roast_day;
    expect(first).toBe('2026-12-08');
    await passTo('2026-12-09T08:00:00Z');
    expect((await shop.asks()).every((ask) => ask.state === 'withdrawn')).toBe(true);
    expect(await notice('ask:1:lapsed')).toContain('*nobody answered*');
  });
});

describe('/spoon ask', () => {
  test('asks for grams without a table by a day, and joins what is asked already', async () => {
    const { message } = await shop.type('Chirinos 400g by thu', NOOR);
    expect(message?.text).toContain(`<@${BRAM}> is asked. 400 g of Chirinos`);
    // 400 / 0.845 = 473.4 g of green, up to 480 g.
    expect(await state()).toMatchObject({ green_mg: 480_000, roast_day: '2026-11-26', favour: 1 });
    expect(await notice(`ask:1:for:${NOOR}`)).toContain('[Withdraw the ask]');
    await shop.type('chirinos 100 g by thursday', INES);
    expect((await shop.asks()).map((ask) => ask.green_mg)).toEqual([600_000]);
    expect(await notice(`ask:1:for:${NOOR}`)).toContain(`together with <@${INES}> (100 g)`);
    await shop.tap('ask.withdraw', { ask: 1 }, NOOR);
    expect((await shop.asks()).map((ask) => [ask.state, ask.green_mg])).toEqual([['asked', 120_000]]);
  });

  test('what was asked without a table is used for the host’s own table on that day', async () => {
    await shop.type('Chirinos 400g by 3 dec', INES);
    await shop.book(FRIDAY);
    expect(await shop.asks()).toMatchObject([{ green_mg: 480_000, roast_day: '2026-12-03' }]);
    expect(await notice('ask:1')).toContain('For *T1* Harbour Lamp');
  });

  test('opens its form with what was understood when words are missing or unknown', async () => {
    const missing = await shop.type('Chirinos', NOOR);
    expect(missing.form).toMatchObject({ callback_id: 'ask.new' });
    const unknown = await shop.type('Chrinos Alto 400g by thu', NOOR);
    expect(JSON.stringify(unknown.form)).toContain('I know no coffee called');
    expect(await shop.asks()).toEqual([]);
    await shop.submit('ask.new', {}, { coffee: '1', grams: '400', day: '2026-12-01' }, NOOR);
    expect(await state()).toMatchObject({ roast_day: '2026-12-01', created_by: NOOR });
  });

  test('alone lists the open asks with the buttons of whoever looks', async () => {
    expect((await shop.type('', BRAM)).message?.text).toContain('No roast is asked for');
    await shop.book(FRIDAY);
    const forBram = JSON.stringify((await shop.type('', BRAM)).message);
    expect(forBram).toContain('ask.accept#1');
    expect(JSON.stringify((await shop.type('', INES)).message)).toContain('ask.withdraw#1');
    expect(JSON.stringify((await shop.type('', WREN)).message)).not.toContain('#1');
  });
});

import { afterEach, expect, test } from 'vitest';
import {
  findAsk,
  listAskChanges,
  listAsks,
  listAsksFor,
  listRefusedDays,
  setWanted,
  updateAsk,
} from '../../src/store/asks.js';
import { BRAM, type House, house, INES, NOOR, WORKSPACE } from '../commands/roasting/ask-house.js';

let shop: House | undefined;
afterEach(async () => shop?.close());

const AT = new Date('2026-11-24T09:00:00Z');

test('an ask is found in its own workspace only', async () => {
  shop = await house(AT.toISOString());
  await shop.book('2026-12-04T14:00:00Z');
  expect(await findAsk(shop.db, 'T2', 1)).toBeNull();
  expect(await listAsks(shop.db, 'T2', ['asked'])).toEqual([]);
  expect(await findAsk(shop.db, WORKSPACE, 1)).toMatchObject({
    roaster: BRAM,
    createdBy: INES,
    state: 'asked',
  });
});

test('every change keeps who, when, from which state and to which', async () => {
  shop = await house(AT.toISOString());
  await shop.book('2026-12-04T14:00:00Z');
  const ask = await findAsk(shop.db, WORKSPACE, 1);
  if (!ask) throw new Error('no ask');
  const change = { who: NOOR, at: AT, detail: { what: 'decline', because: 'full', day: ask.roastDay } };
  await updateAsk(shop.db, WORKSPACE, ask, { state: 'declined' }, change);
  const [first, second] = await listAskChanges(shop.db, WORKSPACE, 1);
  expect(first).toMatchObject({ from: null, to: 'asked', who: INES });
  expect(second).toMatchObject({
    from: 'asked',
    to: 'declined',
    who: NOOR,
    at: AT,
    detail: { because: 'full' },
  });
  const refused = await listRefusedDays(shop.db, WORKSPACE, ask.coffeeId);
  expect(refused).toEqual(new Map([[1, new Set([ask.roastDay])]]));
});

test('a tasting is put on an ask and taken off it', async () => {
  shop = await house(AT.toISOString());
  await shop.book('2026-12-04T14:00:00Z');
  await setWanted(shop.db, 1, 1, 120_000);
  expect((await listAsksFor(shop.db, WORKSPACE, 1))[0]?.wanted).toEqual([{ tastingId: 1, mg: 120_000 }]);
  await setWanted(shop.db, 1, 1, 0);
  expect(await listAsksFor(shop.db, WORKSPACE, 1)).toEqual([]);
});

import { afterEach, expect, test } from 'vitest';
import { listReservations, setReservations, useReserved } from '../../src/store/shelf.js';
import { type House, house, WORKSPACE } from '../commands/roasting/ask-house.js';

let shop: House | undefined;
afterEach(async () => shop?.close());

const NOW = new Date('2026-11-24T09:00:00Z');

test('holding the same again keeps its place, and what is left out is released', async () => {
  shop = await house(NOW.toISOString());
  await shop.book('2026-12-04T14:00:00Z');
  const [first, second] = await listReservations(shop.db, WORKSPACE);
  const same = new Map([
    [first?.lotId ?? 0, first?.mg ?? 0],
    [second?.lotId ?? 0, second?.mg ?? 0],
  ]);
  expect(await setReservations(shop.db, WORKSPACE, 1, same, NOW)).toBe(false);
  expect(await setReservations(shop.db, WORKSPACE, 1, new Map([[second?.lotId ?? 0, 5000]]), NOW)).toBe(true);
  expect(await listReservations(shop.db, WORKSPACE)).toEqual([
    { tastingId: 1, lotId: second?.lotId, mg: 5000 },
  ]);
});

test('a table that used more than it held takes no more than that off the shelf', async () => {
  shop = await house(NOW.toISOString());
  await shop.book('2026-12-04T14:00:00Z');
  const kayanza = shop.coffee('Kayanza Hill').id;
  const before = await listReservations(shop.db, WORKSPACE);
  await useReserved(shop.db, WORKSPACE, 1, new Map([[kayanza, 9_000_000]]), NOW);
  const lots = await shop.db.selectFrom('lot').select(['coffee_id', 'mg']).orderBy('id').execute();
  expect(lots.map((lot) => lot.mg)).toEqual([600_000 - (before[0]?.mg ?? 0), 600_000]);
});

import { afterEach, expect, test } from 'vitest';
import { type House, house, INES } from '../roasting/ask-house.js';

let shop: House;
afterEach(() => shop.close());

test('a coffee of the blend whose cups were dropped does not stand in for another of it', async () => {
  shop = await house('2026-11-24T09:00:00Z');
  await shop.book('2026-12-04T14:00:00Z');
  const [chirinos, kayanza] = [shop.coffee('Chirinos').id, shop.coffee('Kayanza Hill').id];
  await shop.tap('ask.drop', { tasting: 1, coffee: chirinos, ask: null }, INES);
  await shop.putOnShelf(chirinos, 900_000, '2026-12-01');
  const swap = { tasting: 1, coffee: kayanza, ask: null, other: chirinos };
  await expect(shop.tap('ask.nearest', swap, INES)).rejects.toThrow(
    'That coffee is not free on the shelf any more.',
  );
  const blends = await shop.db.selectFrom('recipe').select('name').execute();
  expect(blends.map((recipe) => recipe.name)).toEqual(['Harbour Lamp']);
});

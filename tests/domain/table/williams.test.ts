import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import { servingOrders, williamsDesign } from '../../../src/domain/table/williams.js';
import { examplesOf } from '../measure/worked-examples.js';

const Rows = z.object({ rows: z.array(z.array(z.number())) });
const Properties = z.object({
  rows: z.number(),
  each_position_count: z.array(z.number()),
  each_ordered_pair_count: z.array(z.number()),
});

/** How often each cup stands in each position, and directly after each other cup. */
function counts(rows: readonly (readonly number[])[]) {
  const count = (keys: readonly string[]) => {
    const tally = new Map<string, number>();
    for (const key of keys) tally.set(key, (tally.get(key) ?? 0) + 1);
    return tally;
  };
  return {
    positions: count(rows.flatMap((row) => row.map((cup, place) => `${cup}@${place}`))),
    pairs: count(rows.flatMap((row) => row.slice(1).map((cup, place) => `${row[place]}>${cup}`))),
  };
}

describe('orders of tasting', () => {
  // Williams (1949), Australian Journal of Scientific Research A 2:149-168; MacFie, Bratchell, Greenhoff & Vallis
  // (1989), Journal of Sensory Studies 4:129-148.
  test.each(examplesOf('williams').map((example) => [example.id, example] as const))(
    'have the published properties of %s',
    (_, example) => {
      const size = Rows.parse(example.input).rows[0]?.length ?? 0;
      const wanted = Properties.parse(example.expected);
      const design = williamsDesign(size);
      const { positions, pairs } = counts(design);
      expect(design).toHaveLength(wanted.rows);
      expect([...new Set(positions.values())]).toEqual(wanted.each_position_count);
      expect([...new Set(pairs.values())]).toEqual(wanted.each_ordered_pair_count);
      expect(positions.size).toBe(size * size);
      expect(pairs.size).toBe(size * (size - 1));
    },
  );

  test('stay balanced when shuffled, for as many tasters as the design has rows', () => {
    const { rows, balanced } = servingOrders(5, 10, 1234);
    const { positions, pairs } = counts(rows);
    expect(balanced).toBe(true);
    expect([...new Set(positions.values())]).toEqual([2]);
    expect([...new Set(pairs.values())]).toEqual([2]);
  });

  test('give everyone every cup once, and say when balance is only near', () => {
    const orders = servingOrders(5, 6, 7);
    for (const row of orders.rows) expect([...row].sort()).toEqual([0, 1, 2, 3, 4]);
    expect(orders).toMatchObject({ balanced: false, balancedFor: 10 });
  });

  test('are the same for the same seed, and a taster who joins changes nobody else’s', () => {
    expect(servingOrders(6, 8, 42).rows.slice(0, 5)).toEqual(servingOrders(6, 5, 42).rows);
    expect(servingOrders(6, 8, 42)).not.toEqual(servingOrders(6, 8, 43));
  });

  test('hold for one cup and for nobody', () => {
    expect(servingOrders(1, 3, 1).rows).toEqual([[0], [0], [0]]);
    expect(servingOrders(4, 0, 1)).toMatchObject({ rows: [], balanced: false });
    expect(williamsDesign(2)).toHaveLength(2);
  });
});

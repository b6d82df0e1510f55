import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { seededFractions } from '../../../src/domain/stats/seeded-random.js';
import { cupLabel, drawCodes, tellApart } from '../../../src/domain/table/lay-cups.js';

const seeds = fc.integer({ min: 0, max: 2 ** 32 - 1 });

// Random three-digit codes: Meilgaard, Civille & Carr, Sensory Evaluation Techniques (from memory); the codes to
// avoid and the first digits: practice of sensory laboratories, no source.
describe('codes of blind cups', () => {
  test('have three digits, no leading zero and no first digit twice while digits last', () => {
    fc.assert(
      fc.property(seeds, fc.integer({ min: 1, max: 9 }), (seed, count) => {
        const codes = drawCodes(count, [], seed);
        expect(codes).toHaveLength(count);
        for (const code of codes) expect(code).toMatch(/^[1-9]\d{2}$/u);
        expect(new Set(codes.map((code) => code[0])).size).toBe(count);
      }),
    );
  });

  test('are all easy to tell apart, and none is 100, 123, 555, 666 or 999', () => {
    fc.assert(
      fc.property(seeds, fc.integer({ min: 2, max: 16 }), (seed, count) => {
        const codes = drawCodes(count, [], seed);
        codes.forEach((code, index) => {
          for (const other of codes.slice(index + 1)) expect(tellApart(code, other)).toBe(true);
        });
        for (const telling of ['100', '123', '555', '666', '999']) expect(codes).not.toContain(telling);
      }),
    );
  });

  test('use none of the last table’s, and keep first digits even beyond nine cups', () => {
    const last = drawCodes(9, [], 1);
    const codes = drawCodes(14, last, 2);
    expect(codes.filter((code) => last.includes(code))).toEqual([]);
    const uses = [...'123456789'].map((digit) => codes.filter((code) => code[0] === digit).length);
    expect(Math.max(...uses) - Math.min(...uses)).toBeLessThanOrEqual(1);
  });

  test('a poured cup gets one that differs from those on the table', () => {
    const onTable = drawCodes(5, [], 11);
    const [poured = ''] = drawCodes(1, [], 12, onTable);
    expect(onTable.map((code) => code[0])).not.toContain(poured[0]);
    for (const code of onTable) expect(tellApart(code, poured)).toBe(true);
  });

  test('are the same for the same seed, and hardly ever for another', () => {
    expect(drawCodes(6, [], 5)).toEqual(drawCodes(6, [], 5));
    expect(drawCodes(6, [], 5)).not.toEqual(drawCodes(6, [], 6));
  });

  test('say so when there are too many cups for codes that differ', () => {
    expect(() => drawCodes(200, [], 1)).toThrow(RangeError);
  });

  test.each([
    ['417', '471', false],
    ['417', '418', false],
    ['417', '497', false],
    ['417', '862', true],
    ['417', '174', false],
  ])('%s and %s: easy to tell apart? %s', (a, b, apart) => {
    expect(tellApart(a, b)).toBe(apart);
  });
});

test('seeded numbers spread evenly over 0 to 1', () => {
  const random = seededFractions(99);
  const tenths = Array.from({ length: 10 }, () => 0);
  for (let draw = 0; draw < 10_000; draw += 1) {
    const at = Math.floor(random() * 10);
    tenths[at] = (tenths[at] ?? 0) + 1;
  }
  // Chi-square with 9 degrees of freedom: 27.9 is passed once in a thousand.
  expect(tenths.reduce((sum, count) => sum + (count - 1000) ** 2 / 1000, 0)).toBeLessThan(27.9);
});

test('labels go on after Z', () => {
  expect([0, 4, 25, 26, 27, 51, 52].map(cupLabel)).toEqual(['A', 'E', 'Z', 'AA', 'AB', 'AZ', 'BA']);
});

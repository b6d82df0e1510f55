import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { adjustedLikings } from '../../../src/domain/next-ratio/likings.js';
import { linearTerms, predict, quadraticTerms } from '../../../src/domain/next-ratio/mixture-model.js';
import { likedMixture, nextRatio, wholePartRatios } from '../../../src/domain/next-ratio/next-ratio.js';
import { tastedRegion } from '../../../src/domain/next-ratio/tasted-region.js';
import { expectAllClose } from '../stats/close.js';
import { placing } from '../verdict/placings.js';

const CUPS = [
  { cup: 'A', parts: [1, 0] },
  { cup: 'B', parts: [3, 1] },
  { cup: 'C', parts: [1, 1] },
  { cup: 'D', parts: [1, 4] },
  { cup: 'E', parts: [0, 1] },
];

function liked(likings: Readonly<Record<string, number>>, tasters = 6) {
  return Array.from({ length: tasters }, (_, index) => placing(`t${index}`, '', { liking: likings }));
}

describe('the next ratio', () => {
  test('lies between the tasted ones where a curved liking peaks', () => {
    // Liking 5 + 12 x (1 − x) over the first component's share x, rounded to a tenth: the peak is at 1:1.
    const cups = CUPS.filter(({ cup }) => cup !== 'C');
    const placings = liked({ A: 5, B: 7.3, D: 6.9, E: 5 });
    const result = nextRatio({ cups, placings, winner: 'B' });
    expect(likedMixture({ cups, placings }).fit?.model.terms).toEqual(quadraticTerms(2));
    expect(result).toMatchObject({ suggestion: { parts: [1, 1] }, reason: null });
    expect(result.suggestion?.gain).toBeGreaterThan(result.error ?? Number.POSITIVE_INFINITY);
  });

  test('is not suggested when nothing is predicted better by more than the error', () => {
    const placings = liked({ A: 5, B: 7, C: 8, D: 7, E: 5 });
    const result = nextRatio({ cups: CUPS, placings, winner: 'C' });
    expect(result).toMatchObject({ suggestion: null, reason: 'nothing beyond the error' });
    expect(likedMixture({ cups: CUPS, placings }).fit?.model.coefficients).toHaveLength(3);
  });

  test.each([1, 2, 3, 4, 5, 6, 7, 8, 9])(
    'is not conjured from rounding when everyone gives every cup %i',
    (points) => {
      const cups = [
        { cup: 'A', parts: [1, 0, 0] },
        { cup: 'B', parts: [0, 1, 0] },
        { cup: 'C', parts: [0, 0, 1] },
        { cup: 'D', parts: [5, 3, 2] },
        { cup: 'E', parts: [2, 1, 1] },
        { cup: 'F', parts: [4, 4, 2] },
        { cup: 'G', parts: [1, 1, 1] },
      ];
      for (const subset of [cups, cups.slice(0, 5), cups.slice(3)]) {
        const placings = liked(Object.fromEntries(subset.map(({ cup }) => [cup, points])));
        for (const { cup } of subset) {
          expect(nextRatio({ cups: subset, placings, winner: cup }).suggestion).toBeNull();
        }
      }
    },
  );

  test('is never outside the tasted region, even when liking climbs towards its edge and beyond', () => {
    const cups = [
      { cup: 'A', parts: [5, 3, 2] },
      { cup: 'B', parts: [4, 4, 2] },
      { cup: 'C', parts: [4, 3, 3] },
      { cup: 'D', parts: [6, 2, 2] },
      { cup: 'E', parts: [5, 2, 3] },
    ];
    const placings = liked({ A: 5, B: 6, C: 7, D: 4, E: 6 });
    const result = nextRatio({ cups, placings, winner: 'A' });
    expect(likedMixture({ cups, placings }).fit?.model.terms).toEqual(linearTerms(3));
    expect(result.suggestion).not.toBeNull();
    const shares = (parts: readonly number[]) =>
      parts.map((part) => part / parts.reduce((sum, each) => sum + each, 0));
    expect(tastedRegion(cups.map(({ parts }) => shares(parts)))(shares(result.suggestion?.parts ?? []))).toBe(
      true,
    );
  });

  test('is a step and no leap when the reach is bounded, though the edge of the region promises most', () => {
    // Liking 1, 5 and 9 of the coffees alone, and 1 × a + 5 × b + 9 × c of every mix: the best is all of the third.
    const cups = [
      { cup: 'A', parts: [1, 0, 0] },
      { cup: 'B', parts: [0, 1, 0] },
      { cup: 'C', parts: [0, 0, 1] },
      { cup: 'D', parts: [1, 1, 2] },
      { cup: 'E', parts: [2, 1, 1] },
    ];
    const placings = liked({ A: 1, B: 5, C: 9, D: 6, E: 4 });
    expect(nextRatio({ cups, placings, winner: 'D' }).suggestion?.parts).toEqual([0, 1, 19]);
    const near = nextRatio({ cups, placings, winner: 'D', reach: 0.15 }).suggestion;
    // From 25/25/50 at most 15 points each way: 10/25/65 promises 7.2, the most there is within reach.
    expect(near?.parts).toEqual([2, 5, 13]);
    expect(near?.predictedLiking).toBeCloseTo(0.1 + 0.25 * 5 + 0.65 * 9, 9);
  });

  test('says why when there is nothing to go by', () => {
    const placings = liked({ A: 5, B: 7 });
    expect(nextRatio({ cups: CUPS, placings, winner: null }).reason).toBe('no winner');
    expect(nextRatio({ cups: CUPS, placings, winner: 'C' }).reason).toBe('winner not rated');
    expect(nextRatio({ cups: CUPS, placings, winner: 'B' }).reason).toBe('too few rated ratios');
  });

  test('is the same whatever the order of words and the names of tasters and cups', () => {
    const said = fc.array(
      fc.record({
        taster: fc.constantFrom('noor', 'teo', 'mika', 'sol'),
        at: fc.integer({ min: 0, max: 5 }),
        liking: fc.dictionary(fc.constantFrom('A', 'B', 'C', 'D', 'E'), fc.integer({ min: 1, max: 9 })),
      }),
      { minLength: 4, maxLength: 10 },
    );
    const cases = said
      .map((all) => all.map((each, index) => ({ ...each, id: `m${index}`, order: null })))
      .chain((all) => fc.tuple(fc.constant(all), fc.shuffledSubarray(all, { minLength: all.length })));
    fc.assert(
      fc.property(cases, ([placings, shuffled]) => {
        const here = nextRatio({ cups: CUPS, placings, winner: 'C' });
        const renamed = {
          cups: CUPS.map((cup) => ({ ...cup, cup: `${cup.cup}-1` })),
          placings: shuffled.map((each) => ({
            ...each,
            taster: [...each.taster].reverse().join(''),
            liking: Object.fromEntries(
              Object.entries(each.liking).map(([cup, points]) => [`${cup}-1`, points]),
            ),
          })),
        };
        const there = nextRatio({ ...renamed, winner: 'C-1' });
        expect(there.reason).toBe(here.reason);
        expect(there.suggestion?.parts).toEqual(here.suggestion?.parts);
        const [whole, again] = [likedMixture({ cups: CUPS, placings }), likedMixture(renamed)];
        expect(again.fit?.model.terms).toEqual(whole.fit?.model.terms);
        expectAllClose(
          again.likings.map(({ liking }) => liking),
          whole.likings.map(({ liking }) => liking),
        );
      }),
      { numRuns: 60 },
    );
  });

  test('promises more than the winner by more than the error, and is none of the tasted ones', () => {
    const liking = fc.record({
      A: fc.integer({ min: 1, max: 9 }),
      B: fc.integer({ min: 1, max: 9 }),
      C: fc.integer({ min: 1, max: 9 }),
      D: fc.integer({ min: 1, max: 9 }),
      E: fc.integer({ min: 1, max: 9 }),
    });
    let suggested = 0;
    fc.assert(
      fc.property(liking, (likings) => {
        const placings = liked(likings, 3);
        const { suggestion, error } = nextRatio({ cups: CUPS, placings, winner: 'D' });
        if (suggestion === null) return;
        const { fit, likings: rated } = likedMixture({ cups: CUPS, placings });
        const model = fit?.model ?? null;
        const ofWinner = model === null ? Number.NaN : predict(model, [1 / 5, 4 / 5]);
        const toBeat = Math.max(rated.find(({ cup }) => cup === 'D')?.liking ?? Number.NaN, ofWinner);
        suggested += 1;
        const whole = suggestion.parts.reduce((sum, part) => sum + part, 0);
        const shares = suggestion.parts.map((part) => part / whole);
        expect(model === null ? Number.NaN : predict(model, shares)).toBeCloseTo(
          suggestion.predictedLiking,
          9,
        );
        expect(suggestion.predictedLiking - toBeat).toBeGreaterThan(error ?? Number.NaN);
        expect(suggestion.gain).toBeCloseTo(suggestion.predictedLiking - toBeat, 12);
        expect(CUPS.map(({ parts }) => parts.join(':'))).not.toContain(suggestion.parts.join(':'));
      }),
    );
    expect(suggested).toBeGreaterThan(0);
  });

  test('takes each taster’s latest liking', () => {
    const early = placing('t0', '', { liking: { A: 1 }, at: 1, id: 'early' });
    const late = placing('t0', '', { liking: { A: 8 }, at: 2, id: 'late' });
    const { likings } = likedMixture({ cups: CUPS, placings: [late, early] });
    expect(likings).toEqual([{ cup: 'A', liking: 8, tasters: 1 }]);
  });

  test('counts the tasters behind it once each, and only those who rated a cup of the mixture', () => {
    const placings = [
      ...liked({ A: 5, B: 7 }, 3),
      placing('t0', '', { liking: { C: 6 }, id: 'more' }),
      placing('elsewhere', '', { liking: { Z: 9 } }),
      placing('unrated', 'A > B'),
    ];
    expect(nextRatio({ cups: CUPS, placings, winner: 'B' }).raters).toBe(3);
  });
});

describe('likings with gaps', () => {
  test('a cup that only a generous taster rated is not lifted by it', () => {
    const likings = [
      { taster: 'strict', cup: 'A', liking: 3 },
      { taster: 'strict', cup: 'B', liking: 4 },
      { taster: 'generous', cup: 'A', liking: 7 },
      { taster: 'generous', cup: 'B', liking: 8 },
      { taster: 'generous', cup: 'C', liking: 7 },
    ];
    const by = new Map(adjustedLikings(['A', 'B', 'C'], likings).map(({ cup, liking }) => [cup, liking]));
    expect(by.get('C')).toBeCloseTo(by.get('A') ?? Number.NaN, 9);
    expect((by.get('B') ?? 0) - (by.get('A') ?? 0)).toBeCloseTo(1, 9);
  });
});

describe('the tasted region', () => {
  const parts = fc
    .array(fc.integer({ min: 0, max: 6 }), { minLength: 3, maxLength: 3 })
    .filter((p) => p.some((x) => x > 0));
  const shares = parts.map((p) => p.map((x) => x / p.reduce((sum, each) => sum + each, 0)));

  test('holds every mix of tasted ratios, the tasted ones included', () => {
    const cases = fc.tuple(
      fc.array(shares, { minLength: 1, maxLength: 7 }),
      fc.array(fc.nat(9), { minLength: 7, maxLength: 7 }),
    );
    fc.assert(
      fc.property(cases, ([tasted, amounts]) => {
        const weights = tasted.map((_, index) => (amounts[index] ?? 0) + 0.001);
        const whole = weights.reduce((sum, weight) => sum + weight, 0);
        const mix = [0, 1, 2].map((c) =>
          tasted.reduce((sum, point, i) => sum + ((weights[i] ?? 0) / whole) * (point[c] ?? 0), 0),
        );
        const isInside = tastedRegion(tasted);
        expect(isInside(mix)).toBe(true);
        expect(tasted.every((point) => isInside(point))).toBe(true);
      }),
    );
  });

  test('holds nothing beyond it: no component above the most or below the least tasted', () => {
    const isInside = tastedRegion([
      [0.5, 0.3, 0.2],
      [0.4, 0.4, 0.2],
      [0.6, 0.2, 0.2],
    ]);
    expect(isInside([0.45, 0.35, 0.2])).toBe(true);
    expect(isInside([0.39, 0.41, 0.2])).toBe(false);
    expect(isInside([0.5, 0.29, 0.21])).toBe(false);
  });
});

describe('whole-part ratios', () => {
  test('come once each, in lowest terms, simplest first', () => {
    const ratios = wholePartRatios(2);
    const keys = ratios.map((ratio) => ratio.join(':'));
    expect(new Set(keys).size).toBe(keys.length);
    expect(keys.slice(0, 5)).toEqual(['0:1', '1:3', '1:1', '3:1', '1:0']);
    expect(keys).toContain('7:13');
  });

  test('five components stay few enough to look at', () => {
    expect(wholePartRatios(5).length).toBeLessThan(8000);
  });
});

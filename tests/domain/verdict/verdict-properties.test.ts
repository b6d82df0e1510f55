import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { USUAL_PERMUTATIONS } from '../../../src/domain/stats/p-values.js';
import type { Placing } from '../../../src/domain/tally/counted.js';
import { decideTable } from './decide.js';
import { cups, noted } from './placings.js';

const CUPS = ['A', 'B', 'C', 'D'];
const TASTERS = ['noor', 'teo', 'mika', 'sol', 'wren', 'jun', 'ines', 'bram'];
const QUICK = { ...USUAL_PERMUTATIONS, samples: 199, exactWork: 3000 };

/** Cups listed from best to worst; a cup marked as tied stands beside the one before it. */
function tiersOf(listed: readonly string[], tied: readonly boolean[]): readonly (readonly string[])[] {
  const tiers: string[][] = [];
  listed.forEach((cup, index) => {
    const last = tiers.at(-1);
    if (last !== undefined && tied[index]) last.push(cup);
    else tiers.push([cup]);
  });
  return tiers;
}

const orders = fc
  .tuple(
    fc.shuffledSubarray(CUPS, { minLength: 1 }),
    fc.array(fc.boolean(), { minLength: CUPS.length, maxLength: CUPS.length }),
  )
  .map(([listed, tied]) => tiersOf(listed, tied));
const likings = fc.dictionary(fc.constantFrom(...CUPS), fc.integer({ min: 1, max: 9 }), { maxKeys: 4 });

/** Full and partial orders, ties, likings and "worst", several messages from some tasters. */
const anyPlacings = fc
  .array(
    fc.record({
      taster: fc.constantFrom(...TASTERS),
      at: fc.integer({ min: 0, max: 9 }),
      order: fc.option(orders, { nil: null }),
      liking: likings,
      worst: fc.option(fc.constantFrom(...CUPS), { nil: null }),
    }),
    { maxLength: 16 },
  )
  .map((said): readonly Placing[] => said.map((each, index) => ({ ...each, id: `m${index}` })));

/** Ratio cups that some tasters have noted: "best" and "worst" reach over these. */
const NOTES = [noted('noor', ...CUPS), noted('teo', 'A', 'B'), noted('sol', 'C')];

function decide(placings: readonly Placing[], ids: readonly string[] = CUPS, notes = NOTES) {
  return decideTable({ ratioCups: cups(...ids), notes, placings, permutations: QUICK });
}

function rename(placings: readonly Placing[], cup: (id: string) => string, taster: (id: string) => string) {
  return placings.map((each) => ({
    ...each,
    taster: taster(each.taster),
    order: each.order?.map((tier) => tier.map(cup)) ?? null,
    liking: Object.fromEntries(Object.entries(each.liking).map(([id, points]) => [cup(id), points])),
    worst: typeof each.worst === 'string' ? cup(each.worst) : null,
  }));
}

describe('whatever people place', () => {
  test('the order of messages does not matter', () => {
    const shuffled = anyPlacings.chain((said) =>
      fc.tuple(fc.constant(said), fc.shuffledSubarray([...said], { minLength: said.length })),
    );
    fc.assert(
      fc.property(shuffled, ([said, other]) => {
        expect(decide(other)).toEqual(decide(said));
      }),
      { numRuns: 60 },
    );
  });

  test('relabelling tasters changes nothing but their labels', () => {
    const back = (taster: string) => [...taster].reverse().join('');
    fc.assert(
      fc.property(anyPlacings, (said) => {
        const there = decide(
          rename(said, (id) => id, back),
          CUPS,
          NOTES.map((each) => ({ ...each, taster: back(each.taster) })),
        );
        const here = decide(said);
        expect({
          ...there,
          placed: there.placed.map(back).sort(),
        }).toEqual(here);
      }),
      { numRuns: 60 },
    );
  });

  test('relabelling and reordering cups changes nothing but their labels', () => {
    const label = (cup: string) => `${'DCBA'.indexOf(cup)}`;
    fc.assert(
      fc.property(anyPlacings, (said) => {
        const here = decide(said);
        const there = decide(
          rename(said, label, (id) => id),
          CUPS.toReversed().map(label),
          NOTES.map((each) => ({
            ...each,
            mentions: each.mentions.map((one) => ({ ...one, cup: label(one.cup) })),
          })),
        );
        expect(there.winner).toBe(here.winner === null ? null : label(here.winner));
        expect(there).toMatchObject({ verdict: here.verdict, decidedBy: here.decidedBy, p: here.p });
        expect(there.wouldChange.settle).toEqual(here.wouldChange.settle);
        expect(there.wouldChange.turn?.tasters).toBe(here.wouldChange.turn?.tasters);
        expect(there.indistinguishable.toSorted()).toEqual(here.indistinguishable.map(label).sort());
        for (const { id, ...standing } of here.standings) {
          expect(there.standings.find((other) => other.id === label(id))).toMatchObject(standing);
        }
        for (const { other, ...pair } of here.headToHead) {
          expect(there.headToHead.find((each) => each.other === label(other))).toMatchObject(pair);
        }
        expect(there.majorities.rankedPairs.map((tier) => tier.toSorted())).toEqual(
          here.majorities.rankedPairs.map((tier) => tier.map(label).sort()),
        );
      }),
      { numRuns: 60 },
    );
  });

  test('probabilities are above 0 and at most 1, and clear means what it says', () => {
    fc.assert(
      fc.property(anyPlacings, (said) => {
        const result = decide(said);
        for (const p of [result.p, ...result.headToHead.flatMap((pair) => [pair.p, pair.pHolm])]) {
          expect(p).toBeGreaterThan(0);
          expect(p).toBeLessThanOrEqual(1);
        }
        if (result.verdict !== 'clear') return;
        expect(result.p).toBeLessThan(0.05);
        expect(result.indistinguishable).toEqual([]);
        expect(result.majorities.circles).toEqual([]);
        expect(result.majorities.beatWinner).toEqual([]);
      }),
      { numRuns: 60 },
    );
  });

  test('everyone tying every cup gives p = 1', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 60 }), fc.integer({ min: 2, max: 4 }), (tasters, ratios) => {
        const ids = CUPS.slice(0, ratios);
        const said = Array.from({ length: tasters }, (_, index) => ({
          taster: `t${index}`,
          at: 0,
          id: `m${index}`,
          order: [ids],
          liking: {},
        }));
        expect(decide(said, ids)).toMatchObject({ p: 1, verdict: 'too close' });
      }),
      { numRuns: 25 },
    );
  });

  test('everyone giving one liking to all that they rated gives p = 1, whatever they left out', () => {
    const ratings = fc.array(fc.tuple(fc.subarray(CUPS, { minLength: 1 }), fc.integer({ min: 1, max: 9 })), {
      minLength: 1,
      maxLength: 50,
    });
    fc.assert(
      fc.property(ratings, (rated) => {
        const said = rated.map(([ids, points], index) => ({
          taster: `t${index}`,
          at: 0,
          id: `m${index}`,
          order: null,
          liking: Object.fromEntries(ids.map((id) => [id, points])),
        }));
        const { p, verdict, headToHead } = decide(said);
        expect([p, verdict]).toEqual([1, 'too close']);
        expect(headToHead.every((pair) => pair.p === 1 && pair.pHolm === 1)).toBe(true);
      }),
      { numRuns: 40 },
    );
  });
});

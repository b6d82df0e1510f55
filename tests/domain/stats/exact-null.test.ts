import { describe, expect, test } from 'vitest';
import { cochranQ } from '../../../src/domain/stats/cochran-q.js';
import { friedman } from '../../../src/domain/stats/friedman.js';
import { signTest } from '../../../src/domain/stats/sign-test.js';
import { skillingsMack } from '../../../src/domain/stats/skillings-mack.js';
import { rankings } from './rank-tables.js';

// Here every outcome is listed, so P(p ≤ alpha) is known exactly and no room is left for Monte Carlo error; only
// rounding in the last digits of a sum is allowed for.
const ALPHAS = [0.01, 0.05, 0.2];
const ROUNDING = 1e-12;

/** Outcomes with their probability and p-value, held to P(p ≤ alpha) ≤ alpha. */
function expectValid(outcomes: readonly { readonly chance: number; readonly p: number }[]): void {
  for (const alpha of ALPHAS) {
    const rejected = outcomes
      .filter(({ p }) => p <= alpha + ROUNDING)
      .reduce((sum, { chance }) => sum + chance, 0);
    expect(rejected, `at ${alpha}`).toBeLessThanOrEqual(alpha + ROUNDING);
  }
}

/** P(X = count) by Pascal's rule, without the code under test. */
function binomialChances(trials: number, share: number): readonly number[] {
  let chances: readonly number[] = [1];
  for (let trial = 0; trial < trials; trial += 1) {
    chances = Array.from(
      { length: chances.length + 1 },
      (_, count) => (chances[count] ?? 0) * (1 - share) + (chances[count - 1] ?? 0) * share,
    );
  }
  return chances;
}

/** Every table of which each row is one of its choices. */
function everyTable<Row>(choices: readonly (readonly Row[])[]): readonly (readonly Row[])[] {
  return choices.reduce<readonly (readonly Row[])[]>(
    (tables, rows) => tables.flatMap((table) => rows.map((row) => [...table, row])),
    [[]],
  );
}

function ordersOf<Value>(row: readonly Value[]): readonly (readonly Value[])[] {
  const orders = rankings(row.length).map((order) => order.flatMap((at) => row.slice(at - 1, at)));
  return [...new Map(orders.map((order) => [order.join(), order])).values()];
}

const PEOPLE = Array.from({ length: 40 }, (_, index) => index + 1);

describe('when nothing differs, P(p ≤ alpha) is at most alpha, every outcome listed', () => {
  test.each(PEOPLE)('sign test of %i tasters, and of those among them who do not tie', (tasters) => {
    const chances = binomialChances(tasters, 0.5);
    expectValid(chances.map((chance, wins) => ({ chance, p: signTest(wins, tasters - wins) })));
  });

  test.each([
    {
      name: '4 tasters, no ties',
      rows: [
        [1, 2, 3],
        [1, 2, 3],
        [1, 2, 3],
        [1, 2, 3],
      ],
    },
    {
      name: '4 tasters, ties of every kind',
      rows: [
        [1, 2, 3],
        [1, 2, 2],
        [1, 1, 2],
        [1, 1, 1],
      ],
    },
    {
      name: '6 tasters who tie much',
      rows: [
        [1, 2, 2],
        [1, 2, 2],
        [1, 1, 2],
        [1, 1, 2],
        [1, 2, 2],
        [1, 2, 3],
      ],
    },
    {
      name: '3 tasters of 4 cups',
      rows: [
        [1, 2, 2, 3],
        [1, 1, 2, 2],
        [1, 2, 2, 2],
      ],
    },
  ])('Friedman: $name', ({ rows }) => {
    const tables = everyTable(rows.map(ordersOf));
    expectValid(tables.map((table) => ({ chance: 1 / tables.length, p: friedman(table).p })));
  });

  test.each([
    {
      name: 'no gaps',
      rows: [
        [1, 0, 0],
        [1, 1, 0],
        [1, 0, 0],
        [1, 1, 0],
        [0, 0, 0],
        [1, 0, 0],
      ],
    },
    {
      name: 'two cups',
      rows: [
        [1, 0],
        [1, 0],
        [1, 0],
        [1, 0],
        [1, 0],
        [1, 0],
        [1, 1],
      ],
    },
    {
      name: 'skipped cups',
      rows: [
        [1, 0, null],
        [1, 0, 0],
        [1, 1, 0],
        [null, 1, 0],
        [1, 0, 0],
      ],
    },
  ])("Cochran's Q: $name", ({ rows }) => {
    const tables = everyTable(rows.map(ordersWithin));
    expectValid(tables.map((table) => ({ chance: 1 / tables.length, p: cochranQ(table).p })));
  });

  test.each([
    {
      name: 'a gap here and there',
      rows: [
        [1, 2, 3],
        [1, null, 2],
        [1, 2, 3],
        [1, 2, null],
      ],
    },
    {
      name: 'gaps and ties',
      rows: [
        [1, 2, 2],
        [1, null, 2],
        [1, 2, 3],
        [null, 1, 2],
        [1, 1, 2],
      ],
    },
    {
      name: 'two groups that share no taster',
      rows: [
        [1, 2, null, null],
        [1, 2, null, null],
        [1, 2, null, null],
        [null, null, 1, 2],
        [null, null, 1, 2],
        [null, null, 1, 2],
      ],
    },
  ])('Skillings–Mack: $name', ({ rows }) => {
    const tables = everyTable(rows.map(ordersWithin));
    expectValid(tables.map((table) => ({ chance: 1 / tables.length, p: skillingsMack(table).p })));
  });
});

/** Every order of what a taster gave, the gaps staying where they are. */
function ordersWithin(row: readonly (number | null)[]): readonly (readonly (number | null)[])[] {
  const given = row.filter((value) => value !== null);
  return ordersOf(given).map((order) => {
    const left = [...order];
    return row.map((value) => (value === null ? null : (left.shift() ?? null)));
  });
}

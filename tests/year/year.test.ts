import { afterEach, expect, test } from 'vitest';
import { playYear } from './play-year.js';
import { startTown, type Town } from './town.js';

/** Six weeks with every run of the tests; the whole year with `YEAR_DAYS=365`. */
const DAYS = Number(process.env['YEAR_DAYS'] ?? 42);
const SEED = Number(process.env['YEAR_SEED'] ?? 2);

let town: Town | undefined;
afterEach(async () => {
  await town?.stop();
  town = undefined;
});

test('a year of bookings, moves, answers, roasts and tables keeps its books and hides nothing', async () => {
  // From before Christmas over the new year; a whole year also meets both clock changes.
  town = await startTown(new Date('2026-12-07T07:00:00Z'));
  const report = await playYear(town, '2026-12-07', DAYS, SEED);
  if (process.env['YEAR_DAYS']) process.stdout.write(`${JSON.stringify(report, null, 1)}\n`);

  // Green in less loss less what was used is on the shelf, to the milligram.
  for (const coffee of report.imbalance) expect(coffee).toEqual({ name: coffee.name, green: 0, roasted: 0 });
  expect(report.doubled).toEqual([]);
  expect(report.orphans).toEqual([]);
  // Every table that was not ready at its hour was said so to its host before.
  expect(report.silent).toEqual([]);
  expect(report.wrong).toEqual([]);
  expect(town.troubles).toEqual([]);
  // The stretch was a busy one: otherwise all of this would be true of nothing.
  expect(report.booked).toBeGreaterThan(DAYS / 10);
  expect(report.opened).toBeGreaterThan(DAYS / 20);
  expect(report.asks['roasted']).toBeGreaterThan(DAYS / 40);
  // Chance may spare a few weeks; it does not spare half a year.
  if (DAYS >= 180) expect(report.unready).toBeGreaterThan(0);
}, 600_000);

import { seededRandom } from '../stats/seeded-random.js';

/**
 * A number for each taster, the same in every file of one table. The order is shuffled by the table's seed, so that
 * a number tells nothing about who came first or whose name begins with what.
 *
 * @returns person → 1, 2, 3 …
 */
export function tasterNumbers(people: readonly string[], seed: number): ReadonlyMap<string, number> {
  const draw = seededRandom(seed);
  const shuffled = [...new Set(people)].sort();
  for (let last = shuffled.length - 1; last > 0; last -= 1) {
    const other = draw(last + 1);
    const held = shuffled[last] ?? '';
    shuffled[last] = shuffled[other] ?? '';
    shuffled[other] = held;
  }
  return new Map(shuffled.map((person, index) => [person, index + 1]));
}

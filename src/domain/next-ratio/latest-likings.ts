import { byWriting, type Placing } from '../tally/counted.js';
import type { Liking } from './adjusted-liking.js';

/** Each taster's latest liking of each cup, by taster and cup. */
export function latestLikings(placings: readonly Placing[]): readonly Liking[] {
  const byTaster = new Map<string, Map<string, number>>();
  for (const { taster, liking } of [...placings].sort(byWriting)) {
    const own = byTaster.get(taster) ?? new Map<string, number>();
    byTaster.set(taster, own);
    for (const [cup, points] of Object.entries(liking)) own.set(cup, points);
  }
  return [...byTaster].flatMap(([taster, own]) => [...own].map(([cup, liking]) => ({ taster, cup, liking })));
}

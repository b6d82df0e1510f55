import type { CountedNote, Placing } from '../../../src/domain/tally/counted.js';
import type { RatioCup } from '../../../src/domain/verdict/standings.js';

/** One taster's order as people write it: "D > E = C". */
export function placing(taster: string, order: string, extra: Partial<Placing> = {}): Placing {
  const tiers =
    order === '' ? null : order.split('>').map((tier) => tier.split('=').map((cup) => cup.trim()));
  return { taster, at: 0, id: `${taster}-0`, order: tiers, liking: {}, ...extra };
}

/** The same order from several tasters, named after `from`. */
export function placings(order: string, count: number, from = 'taster'): readonly Placing[] {
  return Array.from({ length: count }, (_, index) => placing(`${from}-${order}-${index}`, order));
}

/** Ratio cups of unknown cost. */
export function cups(...ids: readonly string[]): readonly RatioCup[] {
  return ids.map((id) => ({ id, costPerKgCents: null }));
}

/** A note in which the taster says something, whatever it is, about each cup. */
export function noted(taster: string, ...ids: readonly string[]): CountedNote {
  return {
    taster,
    at: 0,
    id: `note-${taster}`,
    mentions: ids.map((cup) => ({
      cup,
      attribute: 'body',
      polarity: 'present',
      intensity: null,
      doubt: false,
    })),
  };
}

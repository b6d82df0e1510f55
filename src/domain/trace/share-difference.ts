import { type Interval, wilsonInterval } from '../stats/intervals.js';

/** A count of tasters in one component cup and the component's weight in the blend (weights add to 1). */
export type ComponentShare = { readonly weight: number; readonly tasters: number; readonly noted: number };

/** The blend's observed share beside the one its components lead to expect. */
export type ShareComparison = {
  /** Σ weight × component share, 0..1 */
  readonly expected: number;
  /** share of the blend's tasters, 0..1 */
  readonly observed: number;
  /** observed − expected */
  readonly difference: number;
  /** 95 % interval of the difference */
  readonly interval: Interval;
};

type Spread = { readonly share: number; readonly below: number; readonly above: number };

function spreadOf(tasters: number, noted: number): Spread {
  const [low, high] = wilsonInterval(tasters, noted);
  const share = noted === 0 ? 0 : tasters / noted;
  return { share, below: share - low, above: high - share };
}

/**
 * Compares the blend's share with the weighted sum of its components' shares. The interval is that of Zou, Huang
 * & Zhang (2009, Computational Statistics & Data Analysis 53:1080–1085) for a linear function of proportions:
 * each share's distance to its Wilson limit, weighted, squared and added. It takes the cups as independent; the
 * same people taste all of them, which as a rule makes the true uncertainty smaller, so it errs on the side of
 * saying nothing. A cup that nobody noted makes the interval as wide as ignorance is.
 */
export function compareShares(
  blend: { readonly tasters: number; readonly noted: number },
  components: readonly ComponentShare[],
): ShareComparison {
  const observed = spreadOf(blend.tasters, blend.noted);
  const parts = components.map(({ weight, tasters, noted }) => ({ weight, ...spreadOf(tasters, noted) }));
  const expected = parts.reduce((sum, { weight, share }) => sum + weight * share, 0);
  const difference = observed.share - expected;
  const squares = (own: number, side: 'below' | 'above') =>
    parts.reduce((sum, part) => sum + (part.weight * part[side]) ** 2, own ** 2);
  return {
    expected,
    observed: observed.share,
    difference,
    interval: [
      difference - Math.sqrt(squares(observed.below, 'above')),
      difference + Math.sqrt(squares(observed.above, 'below')),
    ],
  };
}

import { smallestParts, shares as toShares } from '../ratio/parts.js';
import type { Placing } from '../tally/counted.js';
import { adjustedLikings, type CupLiking, latestLikings } from './likings.js';
import { fitMixture, linearTerms, type MixtureModel, predict, quadraticTerms } from './mixture-model.js';
import { tastedRegion } from './tasted-region.js';

/** A cup as a point of the mixture design: whole-number parts per component, a component cup having one part. */
type MixtureCup = { readonly cup: string; readonly parts: readonly number[] };

/** Cups of the table, placings for their likings, and the winning ratio to beat. */
export type NextRatioInput = {
  readonly cups: readonly MixtureCup[];
  readonly placings: readonly Placing[];
  readonly winner: string | null;
  /** how far any component's share may move from the winner's, 0..1; a leap across the region by default */
  readonly reach?: number;
};

/** A ratio worth pouring next. */
type Suggestion = {
  /** whole-number parts per component, in lowest terms */
  readonly parts: readonly number[];
  readonly predictedLiking: number;
  /** predicted liking above the winner's */
  readonly gain: number;
};

/** Why nothing is suggested. */
type NoSuggestion =
  | 'no winner'
  | 'winner not rated'
  | 'too few rated ratios'
  | 'nothing beyond the error'
  | null;

/** The model, its error, and a suggestion when there is one. */
export type NextRatio = {
  readonly likings: readonly CupLiking[];
  /** distinct tasters behind them */
  readonly raters: number;
  readonly model: MixtureModel | null;
  readonly kind: 'linear' | 'quadratic' | null;
  /** leave-one-out error in points of liking, the bar that a suggestion must clear */
  readonly error: number | null;
  readonly winnerLiking: number | null;
  readonly suggestion: Suggestion | null;
  readonly reason: NoSuggestion;
};

/** Differences in liking smaller than this are rounding, not taste. */
const ROUNDING = 1e-9;

type Fit = { readonly kind: 'linear' | 'quadratic'; readonly model: MixtureModel; readonly error: number };

/** Totals of parts to look among: ratios that a spoon or a scale can follow, the simplest first. */
const TOTALS = [4, 5, 6, 8, 10, 12, 16, 20] as const;
/** More candidates than this are not looked at, so that many components stay quick. */
const MOST_CANDIDATES = 4000;

function splits(total: number, components: number): readonly (readonly number[])[] {
  if (components === 1) return [[total]];
  return Array.from({ length: total + 1 }, (_, first) =>
    splits(total - first, components - 1).map((rest) => [first, ...rest]),
  ).flat();
}

/** Number of ways to split a total among components. */
function countSplits(total: number, components: number): number {
  let count = 1;
  for (let index = 1; index < components; index += 1) count = (count * (total + index)) / index;
  return Math.round(count);
}

/** The lists never change, and every digest asks for one. */
const KNOWN = new Map<number, readonly (readonly number[])[]>();

/**
 * Ratios in whole-number parts of up to 20 in all, in lowest terms, the simplest first and each only once.
 *
 * @param components number of components, 1 or more
 */
export function wholePartRatios(components: number): readonly (readonly number[])[] {
  const known = KNOWN.get(components);
  if (known !== undefined) return known;
  const ratios: (readonly number[])[] = [];
  const seen = new Set<string>();
  for (const total of TOTALS) {
    if (countSplits(total, components) > MOST_CANDIDATES) break;
    for (const parts of splits(total, components)) {
      const lowest = smallestParts(parts);
      const key = lowest.join(':');
      if (seen.has(key)) continue;
      seen.add(key);
      ratios.push(lowest);
    }
  }
  KNOWN.set(components, ratios);
  return ratios;
}

/** The model that predicts ratios it has not seen best; the simpler one when they are level. */
function bestModel(points: readonly (readonly number[])[], likings: readonly number[]): Fit | null {
  const components = points[0]?.length ?? 0;
  const fits = (
    [
      ['linear', linearTerms(components)],
      ['quadratic', quadraticTerms(components)],
    ] as const
  ).flatMap(([kind, terms]): readonly Fit[] => {
    const model = fitMixture(points, likings, terms);
    return model === null || model.leaveOneOutError === null
      ? []
      : [{ kind, model, error: model.leaveOneOutError }];
  });
  const [linear, quadratic] = fits;
  if (linear !== undefined && quadratic !== undefined)
    return quadratic.error < linear.error - ROUNDING ? quadratic : linear;
  return linear ?? null;
}

function inRoundings(liking: number): number {
  return Math.round(liking / ROUNDING);
}

function bestRatio(
  points: readonly (readonly number[])[],
  { model, error }: Fit,
  toBeat: number,
  isWithinReach: (shares: readonly number[]) => boolean,
): Suggestion | null {
  const better = wholePartRatios(points[0]?.length ?? 0)
    .filter((parts) => isWithinReach(toShares(parts)))
    .map((parts) => ({ parts, predictedLiking: predict(model, toShares(parts)) }))
    .filter(({ predictedLiking }) => predictedLiking - toBeat > error + ROUNDING)
    // Stable: among ratios predicted alike the simplest stays first.
    .sort((a, b) => inRoundings(b.predictedLiking) - inRoundings(a.predictedLiking));
  if (better.length === 0) return null;
  const isInside = tastedRegion(points);
  const isTasted = (shares: readonly number[]) =>
    points.some((point) => point.every((share, index) => Math.abs(share - (shares[index] ?? 0)) < 1e-9));
  const found = better.find(({ parts }) => isInside(toShares(parts)) && !isTasted(toShares(parts)));
  return found === undefined ? null : { ...found, gain: found.predictedLiking - toBeat };
}

/**
 * Suggests a ratio worth pouring next from a Scheffé model of liking over the tasted cups, components included:
 * linear, or quadratic when the points allow and its leave-one-out error is smaller. A ratio is suggested only
 * inside the tasted region and only when its predicted liking beats the winner's (what the table gave it or what
 * the model gives it, whichever is higher) by more than that error.
 */
export function nextRatio({ cups, placings, winner, reach = 1 }: NextRatioInput): NextRatio {
  const partsOf = new Map(cups.map(({ cup, parts }) => [cup, parts]));
  const given = latestLikings(placings).filter(({ cup }) => partsOf.has(cup));
  const raters = new Set(given.map(({ taster }) => taster)).size;
  const likings = adjustedLikings(
    cups.map(({ cup }) => cup),
    given,
  );
  const points = likings.map(({ cup }) => toShares(partsOf.get(cup) ?? []));
  const nothing = {
    likings,
    raters,
    model: null,
    kind: null,
    error: null,
    winnerLiking: null,
    suggestion: null,
  };
  if (winner === null) return { ...nothing, reason: 'no winner' };
  const rated = likings.find(({ cup }) => cup === winner);
  if (rated === undefined) return { ...nothing, reason: 'winner not rated' };
  const fit = bestModel(
    points,
    likings.map(({ liking }) => liking),
  );
  if (fit === null) return { ...nothing, winnerLiking: rated.liking, reason: 'too few rated ratios' };
  const winning = toShares(partsOf.get(winner) ?? []);
  const toBeat = Math.max(rated.liking, predict(fit.model, winning));
  const suggestion = bestRatio(points, fit, toBeat, (shares) =>
    shares.every((share, index) => Math.abs(share - (winning[index] ?? 0)) < reach + 1e-9),
  );
  return {
    likings,
    raters,
    ...fit,
    winnerLiking: toBeat,
    suggestion,
    reason: suggestion === null ? 'nothing beyond the error' : null,
  };
}

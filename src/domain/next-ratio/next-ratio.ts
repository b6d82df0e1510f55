import { smallestParts, shares as toShares } from '../ratio/parts.js';
import type { Placing } from '../tally/counted.js';
import { adjustedLikings, latestLikings } from './likings.js';
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

/** A suggestion when there is one, else why there is none. */
export type NextRatio = {
  /** distinct tasters behind the likings */
  readonly raters: number;
  /** leave-one-out error in points of liking, the bar that a suggestion must clear */
  readonly error: number | null;
  readonly suggestion: Suggestion | null;
  readonly reason: NoSuggestion;
};

/** Differences in liking smaller than this are rounding, not taste. */
const ROUNDING = 1e-9;

/** A model of liking and its leave-one-out error. */
type Fit = { readonly model: MixtureModel; readonly error: number };

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

/**
 * Ratios in whole-number parts of up to 20 in all, in lowest terms, the simplest first and each only once.
 *
 * @param components number of components, 1 or more
 */
export function wholePartRatios(components: number): readonly (readonly number[])[] {
  const tooMany = TOTALS.findIndex((total) => countSplits(total, components) > MOST_CANDIDATES);
  const ratios = TOTALS.slice(0, tooMany < 0 ? TOTALS.length : tooMany)
    .flatMap((total) => splits(total, components))
    .map(smallestParts);
  return [...new Map(ratios.map((parts) => [parts.join(':'), parts])).values()];
}

/** The model that predicts ratios it has not seen best; the simpler one when they are level. */
function bestModel(points: readonly (readonly number[])[], likings: readonly number[]): Fit | null {
  const components = points[0]?.length ?? 0;
  const [linear = null, quadratic = null] = [linearTerms(components), quadraticTerms(components)].flatMap(
    (terms): readonly Fit[] => {
      const model = fitMixture(points, likings, terms);
      const error = model?.leaveOneOutError ?? null;
      return model === null || error === null ? [] : [{ model, error }];
    },
  );
  if (linear === null || quadratic === null) return linear;
  return quadratic.error < linear.error - ROUNDING ? quadratic : linear;
}

/** Likings of the cups with tasters made comparable, each cup as a point of the mixture, and the model of them. */
export function likedMixture({ cups, placings }: Pick<NextRatioInput, 'cups' | 'placings'>) {
  const partsOf = new Map(cups.map(({ cup, parts }) => [cup, parts]));
  const given = latestLikings(placings).filter(({ cup }) => partsOf.has(cup));
  const likings = adjustedLikings([...partsOf.keys()], given);
  const points = likings.map(({ cup }) => toShares(partsOf.get(cup) ?? []));
  const fit = bestModel(
    points,
    likings.map(({ liking }) => liking),
  );
  return { raters: new Set(given.map(({ taster }) => taster)).size, likings, points, fit };
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
  const { raters, likings, points, fit } = likedMixture({ cups, placings });
  const nothing = { raters, error: null, suggestion: null };
  if (winner === null) return { ...nothing, reason: 'no winner' };
  const at = likings.findIndex(({ cup }) => cup === winner);
  const rated = likings[at];
  const winning = points[at];
  if (rated === undefined || winning === undefined) return { ...nothing, reason: 'winner not rated' };
  if (fit === null) return { ...nothing, reason: 'too few rated ratios' };
  const toBeat = Math.max(rated.liking, predict(fit.model, winning));
  const suggestion = bestRatio(points, fit, toBeat, (shares) =>
    shares.every((share, index) => Math.abs(share - (winning[index] ?? 0)) < reach + 1e-9),
  );
  const reason = suggestion === null ? 'nothing beyond the error' : null;
  return { raters, error: fit.error, suggestion, reason };
}

import type { Drum } from '../house/drum.js';
import { WHOLE_BP } from '../measure/hundredths.js';
import { ceilToStep, roundToStep } from '../measure/scale-step.js';

/** One roast: green in and roasted out, milligrams, in which drum, and whether an odd loss was confirmed. */
export type RoastRecord = {
  readonly greenMg: number;
  readonly roastedMg: number;
  /** Name of the drum; null for a roast from before drums were kept. */
  readonly drum?: string | null;
  readonly confirmed?: boolean;
};

/** A coffee's roast loss, all in hundredths of a percent. */
export type LossEstimate = {
  readonly lossBp: number;
  /** 95 % interval of the coffee's mean loss. */
  readonly lowBp: number;
  readonly highBp: number;
  /** 95 % interval of the next single batch, which is wider. */
  readonly nextLowBp: number;
  readonly nextHighBp: number;
  /** Batches the estimate rests on; 0 for the house's default. */
  readonly batches: number;
};

/** The loss to plan with in each drum of the house, by the drum's name. */
export type DrumLosses = ReadonlyMap<string, LossEstimate>;

/** A batch that lies further from the others than a slip of the scale explains. */
export type OddBatch = { readonly index: number; readonly lossBp: number; readonly usualBp: number };

/** Only the latest roasts speak for the next: crops, drums and profiles change. */
const LATEST = 12;
/** With fewer than two batches: ± 2 points (common practice, no source). */
const UNKNOWN_SPREAD_BP = 200;
/** A batch more than this from the usual is asked about. */
export const ODD_BP = 200;

/**
 * Two-sided 95 % points of Student's t for 1 to 11 degrees of freedom (NIST/SEMATECH e-Handbook of
 * Statistical Methods, table 1.3.6.7.2).
 */
const T_95 = [12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228, 2.201];

/**
 * Roast loss of a batch in hundredths of a percent: (green − roasted) / green (trade articles on weight loss).
 *
 * @throws {RangeError} when the green weight is not positive
 */
export function lossBp(greenMg: number, roastedMg: number): number {
  if (!(greenMg > 0)) throw new RangeError('A batch needs a green weight.');
  return Math.round(((greenMg - roastedMg) / greenMg) * WHOLE_BP);
}

/** Green to charge for a roasted weight: roasted / (1 − loss), up to the scale step. Milligrams. */
export function greenFor(roastedMg: number, loss: number, stepMg: number): number {
  return ceilToStep((roastedMg * WHOLE_BP) / (WHOLE_BP - loss), stepMg);
}

/** Roasted weight to expect from a green weight: green × (1 − loss), to the nearest scale step. Milligrams. */
export function roastedFrom(greenMg: number, loss: number, stepMg: number): number {
  return roundToStep((greenMg * (WHOLE_BP - loss)) / WHOLE_BP, stepMg);
}

/**
 * The drums that a batch of green can have been roasted in: those whose least charge and stated capacity it
 * lies between; when it fits none, the one whose range it misses by the smallest factor.
 */
export function drumsFor(greenMg: number, drums: readonly Drum[]): readonly Drum[] {
  const missed = (drum: Drum) => Math.max(greenMg / drum.capacityMg, drum.minimumChargeMg / greenMg, 1);
  const nearest = Math.min(...drums.map(missed));
  return drums.filter((drum) => missed(drum) === nearest);
}

/** The drum a recorded batch belongs to: the one kept with it, else the only one its green fits; or null. */
export function drumOf(roast: RoastRecord, drums: readonly Drum[]): string | null {
  if (drums.some((drum) => drum.name === roast.drum)) return roast.drum ?? null;
  const [only, ...more] = drumsFor(roast.greenMg, drums);
  return only && more.length === 0 ? only.name : null;
}

/**
 * The roasts made in one of these drums, in their order. A drum that the house renamed is known again by the
 * green it takes; a batch that could be of several drums speaks for none.
 */
export function roastsIn<R extends RoastRecord>(
  roasts: readonly R[],
  names: readonly (string | null)[],
  drums: readonly Drum[],
): readonly R[] {
  return roasts.filter((roast) => names.includes(drumOf(roast, drums)));
}

/** The drum somebody names, unless another one takes so much green and this one does not. */
export function likelyDrum(
  name: string | null,
  greenMg: number | null,
  drums: readonly Drum[],
): string | null {
  return drumsFor(greenMg ?? 0, drums).some((drum) => drum.name === name) ? name : null;
}

/** The roasts made in the drums that blends are roasted in; a sample roaster's say nothing for those. */
export function productionRoasts<R extends RoastRecord>(
  roasts: readonly R[],
  drums: readonly Drum[],
): readonly R[] {
  const production = drums.filter((drum) => drum.kind === 'production');
  const names = (production.length > 0 ? production : drums).map((drum) => drum.name);
  return roastsIn(roasts, names, drums);
}

/**
 * The roasts that an estimate rests on: the latest twelve, without those more than 2 points from the median
 * of the others (from the default when there is no other) that nobody confirmed. So a slip of the scale never
 * drives the next charge, and a loss that somebody looked at twice counts.
 */
export function countingRoasts<R extends RoastRecord>(roasts: readonly R[], defaultBp: number): readonly R[] {
  const latest = roasts.slice(-LATEST);
  const odd = new Set(oddBatches(latest, defaultBp).map((batch) => batch.index));
  return latest.filter((roast, index) => roast.confirmed || !odd.has(index));
}

/** The loss that the next batch is expected to show: the median of those that count, else the default. */
export function usualLossBp(roasts: readonly RoastRecord[], defaultBp: number): number {
  return median(lossesOf(countingRoasts(roasts, defaultBp))) ?? defaultBp;
}

/** The loss to plan with in each drum of the house, from the coffee's own roasts in just that drum. */
export function drumLosses(
  roasts: readonly RoastRecord[],
  defaultBp: number,
  drums: readonly Drum[],
): DrumLosses {
  return new Map(
    drums.map(({ name }) => {
      const own = countingRoasts(roastsIn(roasts, [name], drums), defaultBp);
      return [name, estimateLoss(own, defaultBp)];
    }),
  );
}

/**
 * The loss to plan with, from a coffee's own roasts: the mean of the latest twelve with its Student-t
 * interval, assuming batches scatter normally about the coffee's loss. One batch, or none, gets ± 2 points.
 *
 * @param roasts oldest first
 * @param defaultBp the house's default for the coffee's level, used when there is no roast yet
 */
export function estimateLoss(roasts: readonly RoastRecord[], defaultBp: number): LossEstimate {
  const losses = roasts
    .slice(-LATEST)
    .map((roast) => ((roast.greenMg - roast.roastedMg) / roast.greenMg) * WHOLE_BP);
  const n = losses.length;
  if (n < 2) return around(losses[0] ?? defaultBp, UNKNOWN_SPREAD_BP, UNKNOWN_SPREAD_BP, n);
  const mean = losses.reduce((sum, loss) => sum + loss, 0) / n;
  const deviation = Math.sqrt(losses.reduce((sum, loss) => sum + (loss - mean) ** 2, 0) / (n - 1));
  const t = T_95[n - 2] ?? T_95[T_95.length - 1] ?? 0;
  return around(mean, (t * deviation) / Math.sqrt(n), t * deviation * Math.sqrt(1 + 1 / n), n);
}

/**
 * The batches more than 2 points from the median of the coffee's other batches, or from its default when it
 * is the only one.
 */
export function oddBatches(roasts: readonly RoastRecord[], defaultBp: number): readonly OddBatch[] {
  const losses = lossesOf(roasts);
  return losses.flatMap((loss, index) => {
    const usualBp = median(losses.filter((_, other) => other !== index)) ?? defaultBp;
    return Math.abs(loss - usualBp) > ODD_BP ? [{ index, lossBp: loss, usualBp }] : [];
  });
}

function lossesOf(roasts: readonly RoastRecord[]): readonly number[] {
  return roasts.map((roast) => lossBp(roast.greenMg, roast.roastedMg));
}

function around(centre: number, mean: number, next: number, batches: number): LossEstimate {
  // A billionth of a point is no reason to widen an interval by a whole step.
  const exact = (bp: number) => Number(bp.toFixed(6));
  const held = (bp: number) => Math.min(WHOLE_BP, Math.max(0, bp));
  return {
    lossBp: Math.round(centre),
    lowBp: held(Math.floor(exact(centre - mean))),
    highBp: held(Math.ceil(exact(centre + mean))),
    nextLowBp: held(Math.floor(exact(centre - next))),
    nextHighBp: held(Math.ceil(exact(centre + next))),
    batches,
  };
}

function median(values: readonly number[]): number | null {
  const sorted = [...values].sort((a, b) => a - b);
  const [low, high] = [sorted[Math.floor((sorted.length - 1) / 2)], sorted[Math.floor(sorted.length / 2)]];
  return low === undefined || high === undefined ? null : Math.round((low + high) / 2);
}

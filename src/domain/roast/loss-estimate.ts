import { WHOLE_BP } from '../measure/hundredths.js';
import { lossBp } from './loss.js';

/** One roast of a coffee: green in and roasted out, milligrams. */
export type RoastRecord = { readonly greenMg: number; readonly roastedMg: number };

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

/** A batch that lies further from the others than a slip of the scale explains. */
export type OddBatch = { readonly index: number; readonly lossBp: number; readonly usualBp: number };

/** Only the latest roasts speak for the next: crops, drums and profiles change. */
const LATEST = 12;
/** With fewer than two batches: ± 2 points (common practice, no source). */
const UNKNOWN_SPREAD_BP = 200;
/** A batch more than this from the others is pointed out. */
const ODD_BP = 200;

/**
 * Two-sided 95 % points of Student's t for 1 to 11 degrees of freedom (NIST/SEMATECH e-Handbook of
 * Statistical Methods, table 1.3.6.7.2).
 */
const T_95 = [12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228, 2.201];

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
  const losses = roasts.map((roast) => lossBp(roast.greenMg, roast.roastedMg));
  return losses.flatMap((loss, index) => {
    const usualBp = median(losses.filter((_, other) => other !== index)) ?? defaultBp;
    return Math.abs(loss - usualBp) > ODD_BP ? [{ index, lossBp: loss, usualBp }] : [];
  });
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

import { type Parts, shares } from '../ratio/parts.js';
import { type Scoops, scoops } from '../ratio/scoops.js';
import type { CupPart, TableFormat } from '../record/tasting.js';
import { HELD_ML_PER_GRAM } from './dose.js';

/** A cupping spoon (SCA Coffee Standards 2018: 4–5 mL), in millilitres. */
const SPOON_ML = 5;
/** How far one spoonful strays from the next, as a share of it: common practice, no source. */
const SPOON_SPREAD = 0.1;
/** What a spoon cannot lift from the bottom of a bowl: common practice, no source. */
const DREGS_ML = 30;
/** Hot, warm and cool: the passes of a cupping. */
const PASSES = 3;
/** A pour is worth tasting from this much on: a spoon or two for each of six people. */
const SMALLEST_POUR_ML = 50;

/** The liquid of one component before a pour. */
export type BowlState = {
  /** Vessels of that component on the table. */
  readonly vessels: number;
  readonly waterMl: number;
  readonly doseMg: number;
  /** Spoonfuls that tasters took or will take before the pour. */
  readonly spoonfulsTaken: number;
  /** Millilitres already spooned into earlier pours. */
  readonly pouredMl: number;
};

/** How to build a cup at the table. */
export type Pour = {
  /** Whole scoops per component in one round, in component order. */
  readonly scoops: Scoops;
  /** Rounds of those scoops that make a cup worth tasting. */
  readonly rounds: number;
  readonly volumeMl: number;
  /** Likely error of each share from uneven spoonfuls, in points (one standard deviation). */
  readonly likelyErrorPoints: readonly number[];
  /** Components without enough liquid left, by position, with what is missing in mL; empty when all is well. */
  readonly missing: readonly { readonly component: number; readonly ml: number }[];
  /** Millilitres that a spoon can still lift of each component after this pour, in component order. */
  readonly leftMl: readonly number[];
};

/**
 * Plans a pour: the scoops of the ratio, as many rounds as make a cup for the tasters, what each component
 * bowl still holds, and how far uneven spoonfuls may carry each share.
 */
export function planPour(
  parts: Parts,
  bowls: readonly BowlState[],
  tasters: number,
  tolerancePoints: number,
): Pour {
  const round = scoops(parts, tolerancePoints);
  const perRound = round.scoops.reduce((sum, count) => sum + count, 0);
  const wantedMl = Math.max(SMALLEST_POUR_ML, tasters * 2 * SPOON_ML);
  const rounds = Math.ceil(wantedMl / (perRound * SPOON_ML));
  const after = round.scoops.map((count, component) => {
    const bowl = bowls[component];
    return (bowl ? liquidLeftMl(bowl) : 0) - count * rounds * SPOON_ML;
  });
  const missing = after.flatMap((ml, component) => (ml < 0 ? [{ component, ml: Math.ceil(-ml) }] : []));
  const volumeMl = perRound * rounds * SPOON_ML;
  const likelyErrorPoints = spooningError(round.scoops, rounds);
  const leftMl = after.map((ml) => Math.max(0, Math.floor(ml)));
  return { scoops: round, rounds, volumeMl, likelyErrorPoints, missing, leftMl };
}

/** Spoonfuls of each component that a pour takes, in component order. */
export function spoonfulsOf(pour: Pick<Pour, 'scoops' | 'rounds'>): readonly number[] {
  return pour.scoops.scoops.map((count) => count * pour.rounds);
}

/**
 * Millilitres of each coffee that earlier pours took, each made for as many tasters as now; coffees with
 * nothing taken are left out.
 */
export function pouredAlready(
  pours: readonly (readonly CupPart[])[],
  tasters: number,
  tolerancePoints: number,
): ReadonlyMap<number, number> {
  const taken = new Map<number, number>();
  for (const parts of pours) {
    const pour = planPour(
      parts.map((part) => part.parts),
      [],
      tasters,
      tolerancePoints,
    );
    spoonfulsOf(pour).forEach((count, index) => {
      const coffeeId = parts[index]?.coffeeId ?? 0;
      taken.set(coffeeId, (taken.get(coffeeId) ?? 0) + count * SPOON_ML);
    });
  }
  return taken;
}

/** Spoonfuls of one component that tasters have had: three passes with a spoon, or a serving each when brewed. */
export function spoonfulsTasted(format: TableFormat, tasters: number, serveMl: number): number {
  return format === 'cupping' ? tasters * PASSES : Math.ceil((tasters * serveMl) / SPOON_ML);
}

/** Millilitres a spoon can still lift from the bowls of one component. */
export function liquidLeftMl(bowl: BowlState): number {
  const perVessel = bowl.waterMl - (bowl.doseMg / 1000) * HELD_ML_PER_GRAM - DREGS_ML;
  return Math.max(0, perVessel * bowl.vessels - bowl.spoonfulsTaken * SPOON_ML - bowl.pouredMl);
}

/**
 * Standard deviation of each share, in points, when every spoonful strays by a tenth: by error propagation
 * it is spread × √(p (1 − p) / n) for a share p of n spoonfuls.
 */
export function spooningError(
  scooped: readonly number[],
  rounds = 1,
  spread = SPOON_SPREAD,
): readonly number[] {
  const spoonfuls = scooped.reduce((sum, count) => sum + count, 0) * rounds;
  return shares(scooped).map((share) => 100 * spread * Math.sqrt((share * (1 - share)) / spoonfuls));
}

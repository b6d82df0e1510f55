import { type Parts, shares } from '../ratio/parts.js';
import { type Scoops, scoops } from '../ratio/scoops.js';
import type { CupPart, TableFormat } from '../record/tasting.js';
import { CUPPING_PASSES, HELD_ML_PER_GRAM } from './dose.js';

/** A cupping spoon (SCA Coffee Standards 2018: 4–5 mL), in millilitres. */
const SPOON_ML = 5;
/** How far one spoonful strays from the next, as a share of it: common practice, no source. */
const SPOON_SPREAD = 0.1;
/** What a spoon cannot lift from the bottom of a bowl: common practice, no source. */
const DREGS_ML = 30;
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
  /** Spoonfuls of each component, in component order: rounds of those scoops that make a cup worth tasting. */
  readonly spoonfuls: readonly number[];
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
  const spoonfuls = spoonfulsFor(round, tasters);
  const after = spoonfuls.map((count, component) => {
    const bowl = bowls[component];
    return (bowl ? liquidLeftMl(bowl) : 0) - count * SPOON_ML;
  });
  return {
    scoops: round,
    spoonfuls,
    volumeMl: sum(spoonfuls) * SPOON_ML,
    likelyErrorPoints: spooningError(spoonfuls),
    missing: after.flatMap((ml, component) => (ml < 0 ? [{ component, ml: Math.ceil(-ml) }] : [])),
    leftMl: after.map((ml) => Math.max(0, Math.floor(ml))),
  };
}

function spoonfulsFor({ scoops: round }: Scoops, tasters: number): readonly number[] {
  const wantedMl = Math.max(SMALLEST_POUR_ML, tasters * 2 * SPOON_ML);
  const rounds = Math.ceil(wantedMl / (sum(round) * SPOON_ML));
  return round.map((count) => count * rounds);
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
    const weights = parts.map((part) => part.parts);
    spoonfulsFor(scoops(weights, tolerancePoints), tasters).forEach((count, index) => {
      const coffeeId = parts[index]?.coffeeId ?? 0;
      taken.set(coffeeId, (taken.get(coffeeId) ?? 0) + count * SPOON_ML);
    });
  }
  return taken;
}

/** Spoonfuls of one component that tasters have had: three passes with a spoon, or a serving each when brewed. */
export function spoonfulsTasted(format: TableFormat, tasters: number, serveMl: number): number {
  return format === 'cupping' ? tasters * CUPPING_PASSES : Math.ceil((tasters * serveMl) / SPOON_ML);
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
export function spooningError(spoonfuls: readonly number[]): readonly number[] {
  return shares(spoonfuls).map(
    (share) => 100 * SPOON_SPREAD * Math.sqrt((share * (1 - share)) / sum(spoonfuls)),
  );
}

function sum(numbers: readonly number[]): number {
  return numbers.reduce((total, number) => total + number, 0);
}

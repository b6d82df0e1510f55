import { WHOLE_BP } from '../measure/percent.js';
import { shares } from '../ratio/parts.js';

/**
 * Green shares that come out of the drum as the wanted roasted shares: g_i ∝ r_i / (1 − loss_i) (mass
 * balance). Joined green, 50/50 roasted at 12 % and 18 % loss is 48.2/51.8 green.
 *
 * @param roasted weights or parts of the roasted blend
 * @param lossesBp each coffee's loss, hundredths of a percent
 */
export function greenShares(roasted: readonly number[], lossesBp: readonly number[]): readonly number[] {
  return shares(roasted.map((part, index) => (part * WHOLE_BP) / (WHOLE_BP - (lossesBp[index] ?? 0))));
}

/** Roasted shares that a green mixture turns into: r_i ∝ g_i (1 − loss_i) (mass balance). */
export function roastedShares(green: readonly number[], lossesBp: readonly number[]): readonly number[] {
  return shares(green.map((part, index) => part * (WHOLE_BP - (lossesBp[index] ?? 0))));
}

/** Loss of a roast group worked out from its coffees' own losses: 1 − Σ r_i / Σ (r_i / (1 − loss_i)), in hundredths of a percent. */
export function joinedLossBp(roasted: readonly number[], lossesBp: readonly number[]): number {
  const out = roasted.reduce((sum, part) => sum + part, 0);
  const green = roasted.reduce(
    (sum, part, index) => sum + (part * WHOLE_BP) / (WHOLE_BP - (lossesBp[index] ?? 0)),
    0,
  );
  return (1 - out / green) * WHOLE_BP;
}

import type { HouseFacts } from '../house/house-facts.js';
import { WHOLE_BP } from '../measure/hundredths.js';
import { apportionWeight } from '../measure/scale-step.js';
import { shares } from '../ratio/parts.js';
import type { Coffee } from '../record/coffee.js';
import { type Charge, planCharge } from '../roast/charge.js';
import type { LossEstimate } from '../roast/loss.js';

/** A coffee of the blend with the roasted grams it gives to the batch. */
export type Portion = {
  readonly coffee: Coffee;
  readonly roastGroup: string | null;
  readonly roastedMg: number;
  /** Its part of the ratio, free of the rounding that grams carry. */
  readonly part: number;
};

/** Grams of one coffee. */
export type CoffeeWeight = { readonly coffeeId: number; readonly name: string; readonly mg: number };

/** What the house's own roasts have shown: by coffee roasted alone, and by roast group. */
export type MeasuredLosses = {
  readonly coffees: ReadonlyMap<number, LossEstimate>;
  readonly groups: ReadonlyMap<string, LossEstimate>;
};

export const NOTHING_MEASURED: MeasuredLosses = { coffees: new Map(), groups: new Map() };

/** What is charged together, or one coffee roasted on its own and joined roasted. All weights in milligrams. */
export type RoastGroupNote = {
  /** Name of the group; null for a coffee joined roasted. */
  readonly group: string | null;
  readonly coffees: readonly CoffeeWeight[];
  /** Roasted grams the batch needs of it. */
  readonly roastedMg: number;
  /** Its part of the ratio: the exact weight of the group in the blend. */
  readonly part: number;
  readonly lossBp: number;
  /** Where the loss comes from: measured for the group, each coffee's own, or the house's default for a level. */
  readonly lossFrom: 'group' | 'coffees' | 'defaults';
  /** What the house's own roasts of just this have shown, with its uncertainty; null without any. */
  readonly measured: LossEstimate | null;
  /** Drum, equal loads, green in and roasted out. */
  readonly charge: Charge;
  readonly loadMg: number;
  /** Green of each coffee in one load, to the scale step, adding up to the load. */
  readonly perLoad: readonly CoffeeWeight[];
  /** Green of each coffee over all loads. */
  readonly green: readonly CoffeeWeight[];
  /** How far the scale step pushes a coffee's roasted share of the group from the ratio, in points. */
  readonly stepErrorPoints: number;
  /** Green kilograms for one kilogram of it roasted, per coffee, unrounded. */
  readonly greenPerRoasted: readonly number[];
};

/** House facts that roast groups depend on. */
type GroupHouse = Pick<HouseFacts, 'drums' | 'batchStepMg' | 'lossDefaultsBp' | 'unitSystem'>;

/** The loss to plan with for a coffee: what its roasts showed, its own figure, the house's default for its level. */
export function plannedLossBp(
  coffee: Pick<Coffee, 'id' | 'lossBp' | 'level'>,
  house: Pick<HouseFacts, 'lossDefaultsBp'>,
  measured: MeasuredLosses = NOTHING_MEASURED,
): number {
  return measured.coffees.get(coffee.id)?.lossBp ?? coffee.lossBp ?? house.lossDefaultsBp[coffee.level];
}

/** Works out every roast group: those joined green together, each coffee joined roasted on its own. */
export function roastGroups(
  portions: readonly Portion[],
  groupLossBp: ReadonlyMap<string, number>,
  house: GroupHouse,
  measured: MeasuredLosses = NOTHING_MEASURED,
): readonly RoastGroupNote[] {
  const keyed = new Map<string, readonly Portion[]>();
  for (const portion of portions) {
    if (portion.roastedMg === 0) continue;
    const key = portion.roastGroup === null ? `alone ${portion.coffee.id}` : `group ${portion.roastGroup}`;
    keyed.set(key, [...(keyed.get(key) ?? []), portion]);
  }
  return [...keyed.values()].map((members) => groupNote(members, groupLossBp, house, measured));
}

function groupNote(
  members: readonly Portion[],
  groupLossBp: ReadonlyMap<string, number>,
  house: GroupHouse,
  shown: MeasuredLosses,
): RoastGroupNote {
  const group = members[0]?.roastGroup ?? null;
  const losses = members.map((member) => plannedLossBp(member.coffee, house, shown));
  const roasted = members.map((member) => member.roastedMg);
  const parts = members.map((member) => member.part);
  const roastedMg = roasted.reduce((sum, mg) => sum + mg, 0);
  const measured =
    (group === null ? shown.coffees.get(members[0]?.coffee.id ?? 0) : shown.groups.get(group)) ?? null;
  const kept = group === null ? undefined : groupLossBp.get(group);
  const lossBp = measured?.lossBp ?? kept ?? joinedLossBp(parts, losses);
  const production = house.drums.filter((drum) => drum.kind === 'production');
  const drums = production.length > 0 ? production : house.drums;
  const charge = planCharge(roastedMg, () => lossBp, drums, house.batchStepMg, house.unitSystem).proposed;
  const loadMg = charge.greenMg / charge.loads;
  const inLoad = greenOfGroup(loadMg, parts, losses, house.batchStepMg);
  const weights = (mg: readonly number[]) =>
    members.map(({ coffee }, index) => ({ coffeeId: coffee.id, name: coffee.name, mg: mg[index] ?? 0 }));
  const ofGroup = group !== null && (measured !== null || kept !== undefined);
  const ownLosses = members.every(({ coffee }) => coffee.lossBp !== null || shown.coffees.has(coffee.id));
  return {
    group,
    coffees: weights(roasted),
    roastedMg,
    part: parts.reduce((sum, part) => sum + part, 0),
    lossBp: Math.round(lossBp),
    lossFrom: ofGroup ? 'group' : ownLosses ? 'coffees' : 'defaults',
    measured,
    charge: { ...charge, lossBp: Math.round(lossBp) },
    loadMg,
    perLoad: weights(inLoad),
    green: weights(inLoad.map((mg) => mg * charge.loads)),
    stepErrorPoints: stepError(roastedShares(inLoad, losses), shares(parts)),
    greenPerRoasted: greenShares(parts, losses).map((share) => share / (1 - lossBp / WHOLE_BP)),
  };
}

function stepError(weighed: readonly number[], wanted: readonly number[]): number {
  return Math.max(...weighed.map((share, index) => Math.abs(share - (wanted[index] ?? 0)) * 100));
}

/**
 * How a group's charge of green is made up of its coffees, adding up to it in whole steps. Milligrams.
 *
 * @param roasted weights or parts of the roasted group
 * @param lossesBp each coffee's loss, hundredths of a percent
 */
export function greenOfGroup(
  greenMg: number,
  roasted: readonly number[],
  lossesBp: readonly number[],
  stepMg: number,
): readonly number[] {
  return apportionWeight(greenMg, greenShares(roasted, lossesBp), stepMg);
}

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

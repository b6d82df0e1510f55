import type { HouseFacts } from '../house/house-facts.js';
import { type RestDays, restDaysFor } from '../house/rest-window.js';
import { apportionWeight, ceilToStep } from '../measure/scale-step.js';
import type { TableSetting } from '../record/table-setting.js';
import type { CupPart } from '../record/tasting.js';
import { type LocalDay, localDay } from '../when/local-day.js';
import { type Dose, doseFor } from './dose.js';

/** Cups that a table usually spoons together on the spot: common practice, no source. */
export const POURS_TO_COME = 2;

/** A cup as far as grams go. A pour is spooned from other cups and takes none of its own. */
type CupPlan = {
  readonly kind: 'component' | 'blend' | 'ratio' | 'pour';
  readonly parts: readonly CupPart[];
};

/** What the grams of a tasting depend on. */
export type NeedPlan = {
  readonly cups: readonly CupPlan[];
  readonly dose: Dose;
  readonly tables: number;
  /** Cups expected to be spooned together at the table; each takes one more vessel of every component. */
  readonly poursToCome: number;
  readonly purgeMg: number;
  readonly spareMg: number;
  readonly readyTimes: number;
  readonly scaleStepMg: number;
};

/** Roasted grams of one coffee for a tasting, in milligrams. */
export type CoffeeNeed = {
  readonly coffeeId: number;
  /** In the vessels of all tables, to the scale step. */
  readonly tableMg: number;
  /** Run through the grinder before its samples. */
  readonly purgeMg: number;
  /** All of it: (table + purge) × ready times + spare, up to the scale step. */
  readonly totalMg: number;
};

/**
 * Roasted grams of each coffee for a tasting, in the order in which the cups name them: what the vessels
 * and the grinder take, as many times over as the house keeps ready, and the spare grams per coffee.
 * Rule of thumb: cups × dose × 2 + 50 g per coffee (common practice, no source).
 */
export function coffeeNeeds(plan: NeedPlan): readonly CoffeeNeed[] {
  const table = new Map<number, number>();
  const purge = new Map<number, number>();
  const poured = plan.cups.some((cup) => cup.kind === 'component') ? plan.poursToCome : 0;
  for (const cup of plan.cups) {
    if (cup.kind === 'pour') continue;
    const parts = cup.parts.filter((part) => part.parts > 0);
    const weights = parts.map((part) => part.parts);
    const perVessel = apportionWeight(plan.dose.doseMg, weights, plan.scaleStepMg);
    const perPurge = apportionWeight(ceilToStep(plan.purgeMg, plan.scaleStepMg), weights, plan.scaleStepMg);
    const vessels = (plan.dose.vessels + (cup.kind === 'component' ? poured : 0)) * plan.tables;
    parts.forEach((part, index) => {
      add(table, part.coffeeId, (perVessel[index] ?? 0) * vessels);
      add(purge, part.coffeeId, (perPurge[index] ?? 0) * plan.tables);
    });
  }
  return [...table].map(([coffeeId, tableMg]) => {
    const purgeMg = purge.get(coffeeId) ?? 0;
    const totalMg = ceilToStep((tableMg + purgeMg) * plan.readyTimes + plan.spareMg, plan.scaleStepMg);
    return { coffeeId, tableMg, purgeMg, totalMg };
  });
}

/** One booked table and what it needs roasted. */
export type TableNeed = {
  readonly setting: TableSetting;
  readonly needs: readonly CoffeeNeed[];
  readonly rests: ReadonlyMap<number, RestDays>;
  /** Day of the tasting on the house's calendar. */
  readonly tableDay: LocalDay;
  /** Grams of each need that are only kept back. */
  readonly spareMg: number;
};

/** What one table needs of each coffee, and how long each has to rest. */
export function tableNeed(setting: TableSetting, house: HouseFacts): TableNeed {
  const { tasting, coffees, cups } = setting;
  const dose = doseFor(tasting.format, tasting.invited.length, house, tasting.tables);
  const needs = coffeeNeeds({ ...house, cups, dose, tables: tasting.tables, poursToCome: POURS_TO_COME });
  const rests = new Map<number, RestDays>();
  for (const { coffeeId } of needs) {
    const coffee = coffees.get(coffeeId);
    if (!coffee) continue;
    const subject = { coffeeId, role: coffee.role, level: coffee.level, use: tasting.format };
    rests.set(coffeeId, restDaysFor(subject, house.restWindows));
  }
  const tableDay = localDay(tasting.startsAt, house.timeZone);
  return { setting, needs, rests, tableDay, spareMg: house.spareMg };
}

function add(sums: Map<number, number>, key: number, mg: number): void {
  sums.set(key, (sums.get(key) ?? 0) + mg);
}

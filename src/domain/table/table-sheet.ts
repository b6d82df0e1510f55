import type { HouseFacts } from '../house/house-facts.js';
import { apportionWeight } from '../measure/scale-step.js';
import { nameRatio } from '../ratio/parts.js';
import { type Scoops, scoops } from '../ratio/scoops.js';
import type { Coffee } from '../record/coffee.js';
import { type Cup, cupName } from '../record/tasting.js';
import { type CoffeeNeed, coffeeNeeds } from '../roast/need.js';
import { formatWhen } from '../when/format-when.js';
import { localDay } from '../when/local-day.js';
import { cautions } from './cautions.js';
import { type Dose, doseFor, tastersAtEach } from './dose.js';
import type { TableFormat } from './format.js';
import { type RoastDays, roastAgesRemark } from './roast-ages.js';
import { setOut } from './set-out.js';
import { type Moment, timeline } from './timeline.js';
import { type ServingOrders, servingOrders } from './williams.js';

/** What a table sheet is worked out from. */
export type TableSheetPlan = {
  /** How the tasting is called: T4. */
  readonly name: string;
  readonly blendName: string;
  readonly host: string;
  readonly start: Date;
  readonly format: TableFormat;
  readonly blind: boolean;
  readonly tables: number;
  readonly seed: number;
  /** Names of the tasters in booking order. */
  readonly tasters: readonly string[];
  readonly cups: readonly Pick<Cup, 'label' | 'code' | 'kind' | 'parts' | 'droppedAt'>[];
  readonly coffees: readonly SheetCoffee[];
  readonly poursToCome: number;
  /** When what is set aside of each coffee was roasted, where it is known. */
  readonly roasted?: readonly RoastDays[];
};

/** What the sheet says of a coffee. */
type SheetCoffee = Pick<Coffee, 'id' | 'name' | 'soldAlone' | 'flavourAdded'>;

/** Grams of one coffee in one vessel. */
type Weighing = { readonly coffeeId: number; readonly name: string; readonly mg: number };

/** One cup of the sheet. `name` is what may be seen; the rest is for the host when blind. */
export type SheetCup = {
  readonly name: string;
  readonly label: string;
  readonly kind: Cup['kind'];
  /** "Chirinos", or "Chirinos 50 %, Kayanza Hill 30 %, Nubosa Natural 20 %". */
  readonly what: string;
  /** Grams for one vessel, to the scale step, adding up to the dose; empty for a pour. */
  readonly weigh: readonly Weighing[];
  /** Scoops that build it at the table; null for a coffee alone. */
  readonly scoops: Scoops | null;
};

/** The total of one coffee over cups, tables, purge and spare. */
type SheetTotal = CoffeeNeed & { readonly name: string };

/** Everything the host needs at the table, worked out. */
export type TableSheet = {
  readonly name: string;
  readonly blendName: string;
  readonly host: string;
  /** "Friday 27 November, 14:00". */
  readonly when: string;
  readonly format: TableFormat;
  readonly blind: boolean;
  readonly tables: number;
  readonly dose: Dose;
  readonly gramsPerLitre: number;
  /** What the scale at the table shows. */
  readonly scaleStepMg: number;
  readonly cups: readonly SheetCup[];
  readonly totals: readonly SheetTotal[];
  /** Whose order it is, at which table (from 1), and the cups in that order. */
  readonly orders: readonly {
    readonly taster: string;
    readonly table: number;
    readonly cups: readonly string[];
  }[];
  readonly orderNote: string;
  readonly timeline: readonly Moment[];
  readonly setOut: readonly string[];
  readonly remarks: readonly string[];
  readonly cautions: readonly string[];
};

/** Works out the table sheet: doses, weighings, totals, orders, clock times, what to set out, cautions. */
export function tableSheet(plan: TableSheetPlan, house: HouseFacts): TableSheet {
  const dose = doseFor(plan.format, plan.tasters.length, house, plan.tables);
  const atEach = tastersAtEach(plan.tasters.length, plan.tables);
  const standing = plan.cups.filter((cup) => cup.droppedAt === null);
  const cups = standing.map((cup) => sheetCup(cup, plan.coffees, dose, house));
  const made = standing.filter((cup) => cup.kind !== 'pour').length;
  const names = new Map(plan.coffees.map((coffee) => [coffee.id, coffee.name]));
  const totals = coffeeNeeds({
    ...house,
    cups: standing,
    dose,
    tables: plan.tables,
    poursToCome: plan.poursToCome,
  });
  const orders = servingOrders(cups.length, plan.tasters.length, plan.seed);
  const added = plan.coffees.flatMap(({ name, flavourAdded }) =>
    flavourAdded ? [{ name, added: flavourAdded }] : [],
  );
  return {
    name: plan.name,
    blendName: plan.blendName,
    host: plan.host,
    when: formatWhen(plan.start, house.timeZone),
    format: plan.format,
    blind: plan.blind,
    tables: plan.tables,
    dose,
    gramsPerLitre: house.gramsPerLitre,
    scaleStepMg: house.scaleStepMg,
    cups,
    totals: totals.map((need) => ({ ...need, name: names.get(need.coffeeId) ?? '' })),
    orders: plan.tasters.map((taster, index) => ({
      taster,
      table: Math.floor(index / Math.max(1, atEach)) + 1,
      cups: (orders.rows[index] ?? []).map((cup) => cups[cup]?.name ?? ''),
    })),
    orderNote: orderNote(orders, plan.tasters.length),
    timeline: timeline(plan.format, plan.start, made * dose.vessels, house.timeZone),
    setOut: setOut(made, dose, atEach, plan.tables, plan.blind),
    remarks: remarksOn(plan, house),
    cautions: cautions({
      format: plan.format,
      bowls: cups.length * dose.vessels,
      serveMl: house.serveMl,
      flavourAdded: added,
      blind: plan.blind,
    }),
  };
}

function sheetCup(
  cup: TableSheetPlan['cups'][number],
  coffees: readonly SheetCoffee[],
  dose: Dose,
  house: HouseFacts,
): SheetCup {
  const parts = cup.parts.map((part) => part.parts);
  const named = cup.parts.map((part) => coffees.find((coffee) => coffee.id === part.coffeeId)?.name ?? '');
  const alone = parts.filter((part) => part > 0).length < 2;
  const grams = cup.kind === 'pour' ? [] : apportionWeight(dose.doseMg, parts, house.scaleStepMg);
  return {
    name: cupName(cup),
    label: cup.label,
    kind: cup.kind,
    what: alone ? (named.find((_, index) => (parts[index] ?? 0) > 0) ?? '') : nameRatio(parts, named),
    weigh: cup.parts
      .map(({ coffeeId }, index) => ({ coffeeId, name: named[index] ?? '', mg: grams[index] ?? 0 }))
      .filter((weighing) => weighing.mg > 0),
    scoops: alone ? null : scoops(parts, house.scoopTolerancePoints),
  };
}

function orderNote(orders: ServingOrders, tasters: number): string {
  if (tasters === 0) return 'Nobody is invited yet; orders come with the tasters.';
  if (orders.balanced) return 'Balanced: every cup is as often first, and as often after every other.';
  return `Nearly balanced over ${tasters}; fully with ${orders.balancedFor} tasters.`;
}

function remarksOn(plan: TableSheetPlan, house: Pick<HouseFacts, 'timeZone'>): readonly string[] {
  const standing = plan.cups.filter((cup) => cup.droppedAt === null);
  const alone = new Set(
    standing
      .filter((cup) => cup.kind === 'component')
      .flatMap((cup) => cup.parts.map((part) => part.coffeeId)),
  );
  const asked = plan.coffees.filter((coffee) => alone.has(coffee.id) && !coffee.soldAlone);
  const added = plan.blind ? plan.coffees.filter((coffee) => coffee.flavourAdded !== null) : [];
  const ages = roastAgesRemark(
    plan.coffees.map(({ id, name }) => ({
      coffeeId: id,
      name,
      days: (plan.roasted ?? []).flatMap((held) => (held.coffeeId === id ? held.days : [])),
    })),
    localDay(plan.start, house.timeZone),
  );
  return [
    ...manyCups(standing.length),
    ...asked.map(
      ({ name }) =>
        `${name} was roasted alone for this table; inside the blend it roasts a little differently.`,
    ),
    ...(ages === null ? [] : [ages]),
    ...added.map(
      ({ name, flavourAdded }) => `${name} has something added: ${flavourAdded ?? ''}. See the cautions.`,
    ),
  ];
}

/** 6–9 samples are a usual table and 12 the most for trained tasters (trade pages); 4–6 for a mixed team (practice). */
function manyCups(count: number): readonly string[] {
  if (count <= 6) return [];
  if (count <= 9)
    return [`${count} cups: a usual table for trained tasters; 4 to 6 are easier for a mixed team.`];
  return [
    `${count} cups are many for one flight: palates tire after about 9. A second flight would say more.`,
  ];
}

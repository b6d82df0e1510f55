import { z } from 'zod';
import type { HouseFacts } from '../house/house-facts.js';
import { counted, plainList } from '../measure/plain-list.js';
import { apportionWeight } from '../measure/scale-step.js';
import { nameRatio } from '../ratio/parts.js';
import { scoops } from '../ratio/scoops.js';
import type { Coffee, Lot } from '../record/coffee.js';
import { CUP_KINDS, type Cup, cupName, TABLE_FORMATS, type TableFormat } from '../record/tasting.js';
import { daysBetween, formatWhen, type LocalDay, localDay } from '../when/local-day.js';
import { coffeeNeeds } from './coffee-needs.js';
import { type Dose, doseFor, tastersAtEach } from './dose.js';
import { type AddedTo, cautions, setOut, timeline } from './table-instructions.js';
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
  readonly roasted?: readonly Pick<Lot, 'coffeeId' | 'roastedOn'>[];
};

/** What the sheet says of a coffee. */
type SheetCoffee = Pick<Coffee, 'id' | 'name' | 'soldAlone' | 'flavourAdded'>;

const Texts = z.array(z.string()).readonly();

/** One cup of the sheet. `name` is what may be seen; the rest is for the host when blind. */
const SheetCup = z.object({
  name: z.string(),
  label: z.string(),
  kind: z.enum(CUP_KINDS),
  /** "Chirinos", or "Chirinos 50 %, Kayanza Hill 30 %, Nubosa Natural 20 %". */
  what: z.string(),
  /** Grams for one vessel, to the scale step, adding up to the dose; empty for a pour. */
  weigh: z.array(z.object({ coffeeId: z.number(), name: z.string(), mg: z.number() })).readonly(),
  /** Scoops that build it at the table; null for a coffee alone. */
  scoops: z.object({ scoops: z.array(z.number()).readonly(), worstErrorPoints: z.number() }).nullable(),
});
export type SheetCup = z.output<typeof SheetCup>;

/** Everything the host needs at the table, worked out; a printed sheet is stored until it is drawn. */
export const TableSheet = z.object({
  name: z.string(),
  blendName: z.string(),
  host: z.string(),
  /** "Friday 27 November, 14:00". */
  when: z.string(),
  format: z.enum(TABLE_FORMATS),
  blind: z.boolean(),
  tables: z.number(),
  dose: z.object({ doseMg: z.number(), waterMl: z.number(), vessels: z.number() }),
  gramsPerLitre: z.number(),
  /** What the scale at the table shows. */
  scaleStepMg: z.number(),
  cups: z.array(SheetCup).readonly(),
  /** Each coffee over cups, tables, purge and spare. */
  totals: z
    .array(
      z.object({
        coffeeId: z.number(),
        name: z.string(),
        tableMg: z.number(),
        purgeMg: z.number(),
        totalMg: z.number(),
      }),
    )
    .readonly(),
  /** Whose order it is, at which table (from 1), and the cups in that order. */
  orders: z.array(z.object({ taster: z.string(), table: z.number(), cups: Texts })).readonly(),
  orderNote: z.string(),
  timeline: z.array(z.object({ clock: z.string(), what: z.string() })).readonly(),
  setOut: Texts,
  remarks: Texts,
  cautions: Texts,
});
export type TableSheet = z.output<typeof TableSheet>;

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
    remarks: remarksOn(plan, standing, added, localDay(plan.start, house.timeZone)),
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

function remarksOn(
  plan: TableSheetPlan,
  standing: TableSheetPlan['cups'],
  added: readonly AddedTo[],
  tableDay: LocalDay,
): readonly string[] {
  const alone = standing.flatMap((cup) => (cup.kind === 'component' ? (cup.parts[0]?.coffeeId ?? []) : []));
  const asked = plan.coffees.filter((coffee) => alone.includes(coffee.id) && !coffee.soldAlone);
  return [
    ...manyCups(standing.length),
    ...asked.map(
      ({ name }) =>
        `${name} was roasted alone for this table; inside the blend it roasts a little differently.`,
    ),
    ...roastAges(plan, tableDay),
    ...(plan.blind ? added : []).map(
      (coffee) => `${coffee.name} has something added: ${coffee.added}. See the cautions.`,
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

/** Components of one table within 24 hours of each other in roast age: a choice of ours, no source. */
const MOST_APART_DAYS = 1;

/** A remark when the coffees of a table were roasted more than a day apart, oldest first. */
function roastAges({ coffees, roasted = [] }: TableSheetPlan, tableDay: LocalDay): readonly string[] {
  const ages = coffees
    .flatMap(({ id, name }) => {
      const [oldest] = roasted.flatMap((lot) => (lot.coffeeId === id ? lot.roastedOn : [])).sort();
      return oldest === undefined ? [] : [{ name, days: daysBetween(oldest, tableDay) }];
    })
    .sort((a, b) => b.days - a.days);
  if ((ages[0]?.days ?? 0) - (ages.at(-1)?.days ?? 0) <= MOST_APART_DAYS) return [];
  const listed = ages.map((age) => `${age.name} ${counted(age.days, 'day')}`);
  return [
    `Roast ages differ: ${plainList(listed)} off the roast. Part of what sets these cups apart may be their age.`,
  ];
}

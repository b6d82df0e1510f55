import type { Deps } from '../commands/common/bot.js';
import type { HouseFacts } from '../domain/house/house-facts.js';
import type { RecipePart } from '../domain/record/recipe.js';
import { isRoastDay } from '../domain/roast/roast-day.js';
import { daysAfter, type LocalDay, localDay } from '../domain/when/local-day.js';
import { markChanged } from '../store/changed.js';
import { type CoffeeFacts, insertCoffee, listCoffees } from '../store/coffees.js';
import { type Db, inTransaction } from '../store/db.js';
import { loadHouse, saveHouse } from '../store/house.js';
import { insertRecipe, listRecipes } from '../store/recipes.js';
import { insertLot } from '../store/shelf.js';

/**
 * Sets up the invented roastery of the demo: its house facts, three coffees, their blend and some roasted
 * grams. What is there already stays as it is, so it can run at every start.
 *
 * @param people handle → Slack user id; `ines` becomes steward and `bram` roaster when they are there
 */
export async function seedScenario(
  deps: Deps,
  workspace: string,
  people: ReadonlyMap<string, string>,
  channel: string,
): Promise<void> {
  await inTransaction(deps.db, async (trx) => {
    const now = deps.clock.now();
    const who = people.get('ines') ?? 'tallyspoon';
    const before = await loadHouse(trx, workspace);
    if (before.stewards.length === 0 && before.roasterPerson === null) {
      await saveHouse(trx, workspace, demoHouse(people, channel), who, now);
    }
    const by = { workspace, who, at: now };
    await seedBlend(trx, by, await seedCoffees(trx, by));
    for (const person of people.values()) await markChanged(trx, workspace, `person:${person}`, now);
  });
}

/** In which workspace, in whose name and when everything is set up. */
type SetUp = { readonly workspace: string; readonly who: string; readonly at: Date };

/** The coffees and how the blend takes them; grams go on the shelf only of those that were not there yet. */
async function seedCoffees(db: Db, by: SetUp): Promise<readonly RecipePart[]> {
  const { workspace } = by;
  const house = await loadHouse(db, workspace);
  const roastedOn = latestRoastDay(localDay(by.at, house.timeZone), (day) => isRoastDay(day, house));
  const bestBy = daysAfter(roastedOn, house.bestByDays);
  const known = await listCoffees(db, workspace);
  const taken: RecipePart[] = [];
  for (const { roastedMg: mg, parts, roastGroup, ...coffee } of DEMO_COFFEES) {
    const there = known.find((other) => other.name === coffee.name);
    const coffeeId = there?.id ?? (await insertCoffee(db, { ...coffee, ...by }));
    taken.push({ coffeeId, parts, roastGroup });
    if (!there && mg > 0) await insertLot(db, { ...by, coffeeId, mg, roastedOn, bestBy, roastId: null });
  }
  return taken;
}

async function seedBlend(db: Db, by: SetUp, parts: readonly RecipePart[]): Promise<void> {
  const recipes = await listRecipes(db, by.workspace);
  if (recipes.some((recipe) => recipe.name === BLEND)) return;
  const why = 'The blend as it is sold.';
  await insertRecipe(db, { ...by, name: BLEND, parts, groupLossBp: new Map(), why, tastingId: null });
}

/** The latest roast day, today included, so that the coffee is still good for a table in ten days. */
function latestRoastDay(today: LocalDay, roasts: (day: LocalDay) => boolean): LocalDay {
  const days = Array.from({ length: 14 }, (_, back) => daysAfter(today, -back));
  return days.find(roasts) ?? today;
}

/*
 * The one scenario of the demo. Everything in it is invented: coffees, weights, prices and measurements
 * are plausible and nobody's.
 */

/** A coffee of the demo, how much of it stands roasted on the shelf, and how the blend takes it. */
type DemoCoffee = CoffeeFacts & Omit<RecipePart, 'coffeeId'> & { readonly roastedMg: number };

const BLEND = 'Harbour Lamp';
const JOINED_GREEN = 'Chirinos + Kayanza Hill';

const NOTHING_MORE = { greenMg: null, flavourAdded: null, remarks: null };

export const DEMO_COFFEES: readonly DemoCoffee[] = [
  {
    ...NOTHING_MORE,
    name: 'Chirinos',
    origin: 'Peru',
    process: 'washed',
    role: 'base',
    level: 'medium',
    soldAlone: false,
    lossBp: 1550,
    greenPriceCents: 720,
    greenMg: 60_000_000,
    moistureBp: 1080,
    densityGPerL: 705,
    screen: 16,
    colour: 62,
    roastedMg: 0,
    parts: 50,
    roastGroup: JOINED_GREEN,
  },
  {
    ...NOTHING_MORE,
    name: 'Kayanza Hill',
    origin: 'Burundi',
    process: 'washed',
    role: 'sweetness',
    level: 'medium',
    soldAlone: true,
    lossBp: 1500,
    greenPriceCents: 860,
    greenMg: 45_000_000,
    moistureBp: 1050,
    densityGPerL: 725,
    screen: 15,
    colour: 64,
    roastedMg: 600_000,
    parts: 30,
    roastGroup: JOINED_GREEN,
  },
  {
    ...NOTHING_MORE,
    name: 'Nubosa Natural',
    origin: 'Costa Rica',
    process: 'natural',
    role: 'highlight',
    level: 'light',
    soldAlone: true,
    lossBp: 1400,
    greenPriceCents: 1140,
    greenMg: 30_000_000,
    moistureBp: 1130,
    densityGPerL: 690,
    screen: 16,
    colour: 72,
    roastedMg: 600_000,
    parts: 20,
    roastGroup: null,
  },
];

/** What the demo roastery tells about itself. */
function demoHouse(people: ReadonlyMap<string, string>, channel: string): Partial<HouseFacts> {
  const steward = people.get('ines');
  return {
    timeZone: 'Europe/Lisbon',
    roastDays: [2, 4],
    roasterPerson: people.get('bram') ?? null,
    stewards: steward === undefined ? [] : [steward],
    drums: [
      {
        name: '15 kg drum',
        capacityMg: 15_000_000,
        minimumChargeMg: 3_750_000,
        usableShare: 0.8,
        kind: 'production',
      },
      {
        name: '1 kg sample roaster',
        capacityMg: 1_000_000,
        minimumChargeMg: 100_000,
        usableShare: 0.8,
        kind: 'sample',
      },
    ],
    currency: 'EUR',
    channel,
  };
}

import type { Town } from './town.js';

/** What the simulation itself saw weighed and used, milligrams by coffee: the books the bot is held against. */
export type Ledger = {
  readonly green: Map<string, number>;
  readonly roasted: Map<string, number>;
  readonly used: Map<string, number>;
};

export function emptyLedger(): Ledger {
  return { green: new Map(), roasted: new Map(), used: new Map() };
}

export function enter(page: Map<string, number>, coffee: string, mg: number): void {
  page.set(coffee, (page.get(coffee) ?? 0) + mg);
}

export type Stock = { readonly name: string; readonly greenMg: number; readonly shelfMg: number };

/** What the bot has in its books of every coffee: green in store, roasted on the shelf. */
export async function stock(town: Town): Promise<readonly Stock[]> {
  const coffees = await town.db
    .selectFrom('coffee')
    .select(['id', 'name', 'green_mg'])
    .orderBy('id')
    .execute();
  const lots = await town.db.selectFrom('lot').select(['coffee_id', 'mg']).execute();
  return coffees.map(({ id, name, green_mg }) => ({
    name,
    greenMg: green_mg ?? 0,
    shelfMg: lots.filter((lot) => lot.coffee_id === id).reduce((sum, lot) => sum + lot.mg, 0),
  }));
}

/** How far the bot's books are from the ledger, milligrams of green and of roasted by coffee; all must be 0. */
export async function imbalance(town: Town, before: readonly Stock[], ledger: Ledger) {
  const now = await stock(town);
  return now.map(({ name, greenMg, shelfMg }) => {
    const first = before.find((one) => one.name === name) ?? { greenMg: 0, shelfMg: 0 };
    const of = (page: ReadonlyMap<string, number>) => page.get(name) ?? 0;
    return {
      name,
      green: first.greenMg - of(ledger.green) - greenMg,
      roasted: first.shelfMg + of(ledger.roasted) - of(ledger.used) - shelfMg,
    };
  });
}

/** Lots that are promised beyond what is in them, and things held by tables that are over. */
export async function doubleReservations(town: Town): Promise<readonly string[]> {
  const lots = await town.db.selectFrom('lot').select(['id', 'mg']).execute();
  const held = await town.db
    .selectFrom('reservation')
    .innerJoin('tasting', 'tasting.id', 'reservation.tasting_id')
    .select(['reservation.lot_id', 'reservation.mg', 'tasting.state', 'tasting.number'])
    .execute();
  const over = lots.flatMap(({ id, mg }) => {
    const promised = held.filter((row) => row.lot_id === id).reduce((sum, row) => sum + row.mg, 0);
    return promised > mg ? [`lot ${id}: ${promised} mg promised of ${mg}`] : [];
  });
  const gone = held.filter((row) => ['closed', 'decided', 'cancelled'].includes(row.state));
  return [...over, ...gone.map((row) => `T${row.number} is ${row.state} and holds ${row.mg} mg`)];
}

/** Asks that are alive although nobody wants them, or whose day has long passed. */
export async function orphanAsks(town: Town, today: string): Promise<readonly string[]> {
  const asks = await town.db
    .selectFrom('ask')
    .select(['id', 'state', 'roast_day', 'offered_day', 'coffee_id'])
    .where('state', 'in', ['asked', 'accepted', 'offered'])
    .execute();
  const wanted = await town.db
    .selectFrom('ask_for')
    .innerJoin('tasting', 'tasting.id', 'ask_for.tasting_id')
    .select(['ask_for.ask_id', 'ask_for.mg', 'tasting.state', 'tasting.number'])
    .where('ask_for.mg', '>', 0)
    .execute();
  return asks.flatMap((ask) => {
    const behind = wanted.filter((row) => row.ask_id === ask.id);
    const dead = behind.filter((row) => row.state !== 'booked' && row.state !== 'ready');
    const lastDay = [ask.roast_day, ask.offered_day ?? ''].sort().at(-1) ?? '';
    return [
      ...(behind.length === 0 ? [`ask ${ask.id} is ${ask.state} for nobody`] : []),
      ...dead.map((row) => `ask ${ask.id} is ${ask.state} for T${row.number}, which is ${row.state}`),
      ...(daysBetween(lastDay, today) > 3 ? [`ask ${ask.id} is still ${ask.state} on ${today}`] : []),
    ];
  });
}

function daysBetween(from: string, to: string): number {
  return (Date.parse(to) - Date.parse(from)) / 86_400_000;
}

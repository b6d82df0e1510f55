import fc from 'fast-check';
import { expect, test } from 'vitest';
import { cancelTasting, moveTasting } from '../../../src/commands/booking/change-booking.js';
import { loadReadiness } from '../../../src/commands/planning/load-plan.js';
import { replanRoasts } from '../../../src/commands/planning/plan-roasts.js';
import { listAsks } from '../../../src/store/asks.js';
import { listTastings } from '../../../src/store/tastings.js';
import { BRAM, type House, house, INES, NOOR, read, WORKSPACE } from '../roasting/ask-house.js';

const START = Date.parse('2026-11-23T09:00:00Z');
const DAY = 24 * 3_600_000;

const step = fc.record({
  what: fc.constantFrom(
    'book',
    'book',
    'move',
    'cancel',
    'accept',
    'offer',
    'decline',
    'roast',
    'withdraw',
    'ask',
  ),
  pick: fc.nat(1000),
  days: fc.integer({ min: 2, max: 16 }),
  later: fc.integer({ min: 0, max: 30 }),
});

/** One thing that somebody does; what is not possible then is kindly refused and changes nothing. */
async function act(
  shop: House,
  now: number,
  { what, pick, days }: { what: string; pick: number; days: number },
) {
  const at = new Date(now);
  const context = { workspace: WORKSPACE, now: at, who: INES };
  const start = new Date(Math.floor((now + days * DAY) / DAY) * DAY + 14 * 3_600_000);
  const tastings = await listTastings(shop.db, WORKSPACE, ['booked', 'ready']);
  const tasting = tastings[pick % Math.max(1, tastings.length)];
  const asks = await listAsks(shop.db, WORKSPACE, ['asked', 'accepted', 'offered']);
  const ask = asks[pick % Math.max(1, asks.length)];
  const day = new Date(now + (pick % 6) * DAY).toISOString().slice(0, 10);
  if (what === 'book' && tastings.length < 5)
    await shop.book(start.toISOString(), pick % 2 ? INES : NOOR, [[2, 1, 1]], 1 + (pick % 3));
  if (what === 'ask') await shop.type(`Chirinos ${100 + (pick % 300)}g`, NOOR);
  if (tasting && what === 'move') await moveTasting(shop.db, context, tasting, start);
  if (tasting && what === 'cancel') await cancelTasting(shop.db, context, tasting);
  if (!ask) return;
  if (what === 'accept') await shop.accept(ask.id);
  if (what === 'decline') await shop.submit('ask.decline', { ask: ask.id }, {}, BRAM);
  if (what === 'offer') await shop.submit('ask.offer', { ask: ask.id }, { day }, BRAM);
  if (what === 'withdraw') await shop.tap('ask.withdraw', { ask: ask.id }, INES);
  const green = Math.round(ask.greenMg / 1000);
  const roasted = `${Math.round(green * (0.8 + (pick % 8) / 100))}`;
  const values = { green: `${green}`, roasted, sure: 'yes' };
  if (what === 'roast') await shop.submit('ask.roasted', { ask: ask.id }, values, BRAM);
}

async function holds(shop: House, now: number): Promise<void> {
  const { held } = await shop.snapshot();
  const lots = await shop.db.selectFrom('lot').selectAll().execute();
  for (const lot of lots) {
    const given = held.filter((row) => row.lot_id === lot.id).reduce((sum, row) => sum + row.mg, 0);
    expect(given).toBeLessThanOrEqual(lot.mg);
  }
  const booked = await listTastings(shop.db, WORKSPACE, ['booked', 'ready']);
  const ids = new Set(booked.map((tasting) => tasting.id));
  for (const ask of await listAsks(shop.db, WORKSPACE, ['asked', 'accepted', 'offered'])) {
    const wanted = [...ask.wanted, ...ask.free].reduce((sum, entry) => sum + entry.mg, 0);
    expect(wanted).toBeGreaterThan(0);
    expect(ask.roastedMg - ask.overMg).toBe(wanted);
    expect(ask.wanted.every((entry) => ids.has(entry.tastingId))).toBe(true);
  }
  for (const tasting of booked) await noSilence(shop, tasting, now);
  const roasts = await shop.db.selectFrom('roast').selectAll().execute();
  const green = await shop.db.selectFrom('coffee').select('green_mg').execute();
  const charged = roasts.reduce((sum, roast) => sum + roast.green_mg, 0);
  // What the three coffees of the demo start with: 60 + 45 + 30 kg of green, 0.6 + 0.6 kg roasted.
  expect(green.reduce((sum, row) => sum + (row.green_mg ?? 0), 0)).toBe(135_000_000 - charged);
  const made = roasts.reduce((sum, roast) => sum + roast.roasted_mg, 0);
  expect(lots.reduce((sum, lot) => sum + lot.mg, 0)).toBe(1_200_000 + made);
}

/** A coffee for which nothing is under way is told to the host, with a way out. */
async function noSilence(
  shop: House,
  tasting: Awaited<ReturnType<typeof listTastings>>[number],
  now: number,
) {
  const { stuck } = await loadReadiness(shop.db, WORKSPACE, tasting, new Date(now));
  for (const coffee of stuck) {
    const subjects = [`ask:tasting-${tasting.id}`, ...(coffee.ask ? [`ask:${coffee.ask.id}`] : [])];
    const told = [];
    for (const subject of subjects) told.push(...(await shop.notices(subject)));
    const toHost = told.filter(
      (notice) => 'place' in notice && JSON.stringify(notice.place).includes(tasting.host),
    );
    expect(toHost.map(read).join('\n')).toContain(`[Drop ${coffee.name}]`);
  }
}

test('a random season of bookings, moves, answers and roasts: no lot given twice, no orphan, no silence', async () => {
  let done = 0;
  await fc.assert(
    fc.asyncProperty(fc.array(step, { minLength: 12, maxLength: 24 }), async (steps) => {
      const shop = await house(new Date(START).toISOString());
      try {
        let now = START;
        for (const one of steps) {
          now += one.later * 3_600_000;
          shop.setTime(new Date(now).toISOString());
          await act(shop, now, one).catch((error: unknown) => {
            if (!(error instanceof Error) || error.name !== 'UserError') throw error;
          });
          await holds(shop, now);
        }
        // Time alone may close a roast day; a plan made now changes nothing when it is made again.
        const context = { workspace: WORKSPACE, now: new Date(now), who: INES };
        await replanRoasts(shop.db, context);
        const planned = await shop.snapshot();
        await replanRoasts(shop.db, context);
        expect(await shop.snapshot()).toEqual(planned);
        done += (await shop.db.selectFrom('roast').select('id').execute()).length;
      } finally {
        await shop.close();
      }
    }),
    { numRuns: 5, seed: 20261123, endOnFailure: true },
  );
  // The season is no empty one.
  expect(done).toBeGreaterThan(0);
}, 120_000);

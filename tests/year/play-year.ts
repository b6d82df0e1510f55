import { wallTime } from '../../src/domain/when/wall-time.js';
import { doubleReservations, emptyLedger, imbalance, type Ledger, orphanAsks, stock } from './ledger.js';
import { fillShelf, HOSTS, hostAnswers, pick, roasterAnswers, roasterReports, takeSome } from './people.js';
import { type Findings, type Table, tableHour } from './table-day.js';
import { type Rng, seeded, type Town } from './town.js';

const ZONE = 'Europe/Lisbon';
const MONTHS = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];
const RATIOS = ['2:1:1', '40/40/20', '1:1:1', '60/20/20', '5:4:1', '3:2:2'];

/** What a simulated stretch of time came to. */
export type YearReport = Findings & {
  readonly booked: number;
  readonly states: Readonly<Record<string, number>>;
  readonly asks: Readonly<Record<string, number>>;
  readonly imbalance: Awaited<ReturnType<typeof imbalance>>;
  readonly doubled: readonly string[];
  readonly orphans: readonly string[];
};

/** Day after day of a roastery's year: bookings, moves, answers, roasts and tables, by chance from a seed. */
export async function playYear(town: Town, first: string, days: number, seed: number): Promise<YearReport> {
  const rng = seeded(seed);
  const ledger = emptyLedger();
  const before = await stock(town);
  const findings: Findings = { silent: [], wrong: [], opened: 0, unready: 0 };
  const doubled: string[] = [];
  const orphans: string[] = [];
  let booked = 0;
  for (let index = 0; index < days; index += 1) {
    const day = dayAfter(first, index);
    const working = ![0, 6].includes(new Date(`${day}T12:00:00Z`).getUTCDay());
    await town.moveTo(wallTime(day, 8 * 60 + 5, ZONE).at);
    if (working) {
      await clearForgotten(town);
      booked += await morning(town, rng, day, ledger);
      for (const table of await tablesOf(town, day)) await tableHour(town, rng, table, ledger, findings);
      await town.moveTo(wallTime(day, 17 * 60, ZONE).at);
      await roasterReports(town, rng, day, ledger);
    }
    doubled.push(...(await doubleReservations(town)).map((what) => `${day}: ${what}`));
    orphans.push(...(await orphanAsks(town, day)).map((what) => `${day}: ${what}`));
  }
  return {
    ...findings,
    booked,
    states: await counts(town, 'tasting'),
    asks: await counts(town, 'ask'),
    imbalance: await imbalance(town, before, ledger),
    doubled,
    orphans,
  };
}

/** Answers first, then whatever comes to mind: a booking, a move, a cancellation, coffee for the shelf. */
async function morning(town: Town, rng: Rng, day: string, ledger: Ledger): Promise<number> {
  await town.moveTo(wallTime(day, 9 * 60 + 20, ZONE).at);
  await roasterAnswers(town, rng);
  for (const host of HOSTS) await hostAnswers(town, rng, host);
  if (new Date(`${day}T12:00:00Z`).getUTCDay() === 2) await fillShelf(town, rng, ledger);
  if (rng() < 0.08) await takeSome(town, rng, ledger);
  const ahead = await upcoming(town);
  const table = ahead.length > 0 ? pick(rng, ahead) : null;
  const mood = rng();
  if (table && mood < 0.07)
    await town.command(table.host, `/spoon book T${table.number} ${whenIn(rng, day)}`);
  else if (table && mood < 0.1) await town.command(table.host, `/spoon book T${table.number} cancel`);
  if (rng() > 0.42) return 0;
  const how = [rng() < 0.2 ? 'blind' : '', rng() < 0.15 ? 'brewed' : '', rng() < 0.15 ? 'tables 2' : ''];
  const ratios = [pick(rng, RATIOS), pick(rng, RATIOS)].join(' ');
  const words = `"Harbour Lamp" ${whenIn(rng, day)} ratios ${ratios} with @mika @sol @wren ${how.join(' ')}`;
  const said = await town.command(pick(rng, HOSTS), `/spoon book ${words}`);
  if (!said.includes('Booked')) throw new Error(`“${words}” was not booked: ${said}`);
  return 1;
}

/** A time within three weeks, on a working day, as one would type it. */
function whenIn(rng: Rng, day: string): string {
  let date = dayAfter(day, 1 + Math.floor(rng() * 20));
  while ([0, 6].includes(new Date(`${date}T12:00:00Z`).getUTCDay())) date = dayAfter(date, 1);
  const [, month = '1', of = '1'] = date.split('-');
  return `${Number(of)} ${MONTHS[Number(month) - 1] ?? ''} ${pick(rng, ['10:00', '11:30', '14:00', '15:30'])}`;
}

/** Tables whose hour passed without anyone opening them are cancelled the morning after. */
async function clearForgotten(town: Town): Promise<void> {
  for (const table of await upcoming(town)) {
    if (table.start < town.now()) await town.command(table.host, `/spoon book T${table.number} cancel`);
  }
}

async function upcoming(town: Town): Promise<readonly Table[]> {
  const rows = await town.db
    .selectFrom('tasting')
    .select(['id', 'number', 'host', 'starts_at'])
    .where('state', 'in', ['booked', 'ready'])
    .orderBy('starts_at')
    .orderBy('id')
    .execute();
  const handle = new Map(HOSTS.map((name) => [town.id(name), name]));
  return rows.map((row) => ({
    id: row.id,
    number: row.number,
    host: handle.get(row.host) ?? row.host,
    start: new Date(row.starts_at),
  }));
}

async function tablesOf(town: Town, day: string): Promise<readonly Table[]> {
  const end = wallTime(day, 18 * 60, ZONE).at;
  return (await upcoming(town)).filter((table) => table.start > town.now() && table.start < end);
}

async function counts(town: Town, table: 'tasting' | 'ask'): Promise<Readonly<Record<string, number>>> {
  const rows = await town.db
    .selectFrom(table)
    .select((eb) => ['state', eb.fn.countAll<number>().as('count')])
    .groupBy('state')
    .execute();
  return Object.fromEntries(rows.map((row) => [row.state, Number(row.count)]));
}

function dayAfter(day: string, count: number): string {
  return new Date(Date.parse(day) + count * 86_400_000).toISOString().slice(0, 10);
}

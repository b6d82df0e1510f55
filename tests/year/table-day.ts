import { enter, type Ledger, stock } from './ledger.js';
import { pick, toldTo } from './people.js';
import { buttonsOf, type Rng, type Town } from './town.js';

/** A booked table, by what the simulation knows of it. */
export type Table = {
  readonly id: number;
  readonly number: number;
  readonly host: string;
  readonly start: Date;
};

/** What went wrong at tables, in words; empty when all went well. */
export type Findings = {
  readonly silent: string[];
  readonly wrong: string[];
  opened: number;
  unready: number;
};

const HOUR_MS = 3_600_000;
const LACKING =
  /no roast is under way|not answered|is on offer|offers|cannot roast|not roasted|nobody (?:is asked|answered)|nothing is recorded|Not ready yet|to roast|missing|asked for|declined|withdrawn|days? before the table/i;

/** The table's hour: its host opens it, people taste, it is closed, and mostly decided. */
export async function tableHour(
  town: Town,
  rng: Rng,
  table: Table,
  ledger: Ledger,
  findings: Findings,
): Promise<void> {
  await town.moveTo(new Date(table.start.getTime() - 10 * 60_000));
  const { host, number } = table;
  const name = `T${number}`;
  const told = await toldTo(town, host, new Date(table.start.getTime() - 36 * HOUR_MS));
  if (rng() < 0.05) return;
  const opened = await town.command(host, `/spoon table ${name} open`);
  if (!opened.includes('is open')) findings.wrong.push(`${name} did not open: ${opened}`);
  findings.opened += 1;
  const lacking = [...opened.matchAll(/• ([^:\n]+):/g)].map((match) => match[1] ?? '');
  if (lacking.length > 0) findings.unready += 1;
  for (const coffee of lacking) {
    const said = told.some((words) => words.includes(name) && words.includes(coffee) && LACKING.test(words));
    if (!said) findings.silent.push(`${name} opened without ${coffee}, and ${host} had not been told`);
  }
  if (rng() < 0.04) {
    await town.command(host, `/spoon book ${name} cancel`);
    return;
  }
  await taste(town, rng, name, host);
  await close(town, table, ledger, findings);
  if (rng() < 0.85) await decide(town, rng, table, findings);
}

async function taste(town: Town, rng: Rng, name: string, host: string): Promise<void> {
  const card = (await town.messages('noor')).find((message) => message.text.startsWith(`${name} ·`));
  if (!card) throw new Error(`${name} has no card`);
  if (rng() < 0.25) await town.command(host, `/spoon pour ${name} ${pick(rng, ['3:2:1', '1:1:1', '5:2:3'])}`);
  for (const taster of ['mika', 'sol', 'wren']) {
    await town.say(taster, pick(rng, ['D > E', 'E > D', 'best: D', 'E is lemony and sweet']), card.ts);
  }
}

/** The shelf loses what the cups and the grinder took, as the sheet says, and no more than the table held. */
async function close(town: Town, table: Table, ledger: Ledger, findings: Findings): Promise<void> {
  const name = `T${table.number}`;
  const needed = await usedBySheet(town, table);
  const held = await town.db
    .selectFrom('reservation')
    .innerJoin('lot', 'lot.id', 'reservation.lot_id')
    .innerJoin('coffee', 'coffee.id', 'lot.coffee_id')
    .select(['coffee.name', 'reservation.mg'])
    .where('reservation.tasting_id', '=', table.id)
    .execute();
  const before = await stock(town);
  await town.command(table.host, `/spoon table ${name} close`);
  for (const { name: coffee, shelfMg } of await stock(town)) {
    const heldMg = held.filter((row) => row.name === coffee).reduce((sum, row) => sum + row.mg, 0);
    const used = Math.min(heldMg, needed.get(coffee) ?? 0);
    enter(ledger.used, coffee, used);
    const left = (before.find((one) => one.name === coffee)?.shelfMg ?? 0) - shelfMg;
    if (left !== used) findings.wrong.push(`${name} took ${left} mg of ${coffee}, its sheet says ${used}`);
  }
}

/** Milligrams of each coffee in cups and grinder, read from the sheet's page of totals. */
async function usedBySheet(town: Town, table: Table): Promise<ReadonlyMap<string, number>> {
  const { message } = await town.answer(table.host, `/spoon table T${table.number}`);
  if (!message || !(await town.tap(table.host, message, 'table.more#3'))) throw new Error('no sheet');
  const words = await town.formWords(table.host);
  const line = /\*([^*]+)\*: [^(]+\(([\d.]+ k?g) in cups, ([\d.]+ k?g) purge/g;
  return new Map(
    [...words.matchAll(line)].map(([, coffee = '', cups = '', purge = '']) => [
      coffee,
      mgOf(cups) + mgOf(purge),
    ]),
  );
}

function mgOf(text: string): number {
  const [number = '0', unit] = text.split(' ');
  return Math.round(Number(number) * (unit === 'kg' ? 1_000_000 : 1000));
}

async function decide(town: Town, rng: Rng, table: Table, findings: Findings): Promise<void> {
  const said = await town.command(table.host, `/spoon digest T${table.number} 8 kg`);
  if (!said.includes('is decided')) findings.wrong.push(`T${table.number} was not decided: ${said}`);
  if (rng() > 0.3) return;
  const digest = (await town.messages('ines')).findLast((one) =>
    one.text.startsWith(`Digest T${table.number} `),
  );
  if (digest && buttonsOf(digest).includes('table.sign')) await town.tap('ines', digest, 'table.sign');
}

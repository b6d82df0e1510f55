import { setTimeout as sleep } from 'node:timers/promises';
import type { Stage } from './expected.js';
import { happens, insist, patiently, type Told } from './insist.js';
import { count } from './look.js';
import { cardOf, command, directOf, submit, tap } from './person.js';
import type { World } from './world.js';

/** Where the table stands, for those who write notes. */
export type Table = { stage: Stage | null };

type Step = {
  /** When in the run, 0 at its beginning and 1 at its end. */
  readonly at: number;
  readonly what: string;
  readonly does: (world: World, table: Table) => Promise<void>;
};

/** Longer than the bot takes to notice that the clock was moved. */
const CLOCK_NOTICED_MS = 400;
const UP_WITHIN_MS = 10_000;
/** Until a kill at the first reminder is ready. */
const TAKES_AIM_MS = 30;
const PATIENCE_MS = 120_000;

/** Ines and Bram: from booking to decision, and what goes on around it. */
const STEPS: readonly Step[] = [
  books(0, 1, '13 nov 14:00 ratios 2:1:1 40/40/20 with @noor @teo @mika @sol @wren @jun'),
  books(0.03, 2, '13 nov 16:30 ratios 1:1:1 with @noor @teo blind'),
  step(0.06, 'have the roast ask accepted', async (world) => {
    const accept = async () => tap(world, 'bram', await directOf(world, 'bram', 'Roast ask'), 'ask.accept');
    await insist('accept the ask', accept, () => hasAsk(world, 'accepted'));
    // A second tap, because the first one seemed to do nothing, changes nothing.
    await accept().catch(() => null);
  }),
  step(0.09, 'cancel the second table', (world) =>
    insist(
      'cancel T2',
      () => command(world, 'ines', '/spoon book T2 cancel'),
      () => is(world, 2, 'cancelled'),
    ),
  ),
  mentions(0.11, 'book "Harbour Lamp" 19 nov 14:00 ratios 2:1:1 with @noor', (world) => isBooked(world, 3)),
  step(0.14, 'come to the afternoon before the roast', (world) => comesTo(world, '2026-11-11T16:00:00Z')),
  step(0.17, 'come to the roast day', (world) => comesTo(world, '2026-11-12T11:00:00Z')),
  step(0.19, 'report what was roasted', async (world) => {
    const report = async (): Promise<Told> => {
      const opened = await tap(
        world,
        'bram',
        await directOf(world, 'bram', 'Roast ask, accepted'),
        'ask.roasted',
      );
      if (!opened.ok) return opened;
      await sleep(150);
      return submit(world, 'bram', { green: '280 g', roasted: '238 g' });
    };
    await insist('report the roast', report, () => hasAsk(world, 'roasted'));
  }),
  step(0.22, 'come to half an hour before the start', (world) => comesTo(world, '2026-11-13T13:31:00Z')),
  step(0.25, 'open the table', async (world, table) => {
    const open = async () => tap(world, 'ines', await cardOf(world, 'ines', 'T1 ·'), 'table.open');
    await insist('open the table', open, () => is(world, 1, 'open'));
    await open().catch(() => null);
    table.stage = 'open';
  }),
  mentions(0.33, 'shelf "Kayanza Hill" 150g', (world) => count(world.database, 'select 1 from lot') > 3),
  mentions(0.42, 'pour 3:2:1', (world) => count(world.database, "select 1 from cup where kind = 'pour'") > 0),
  mentions(0.5, 'tally', () => true),
  changes(0.7, 'table.close', 'closed', 'closed for now'),
  changes(0.78, 'table.reopen', 'open', 'reopened'),
  changes(0.86, 'table.close', 'closed', 'closed'),
  step(0.92, 'decide', (world) =>
    insist(
      'decide',
      () => command(world, 'ines', '/spoon digest T1 12 kg'),
      () => is(world, 1, 'decided'),
    ),
  ),
  step(0.96, 'come to the day before the third table', (world) => comesTo(world, '2026-11-18T09:30:00Z')),
];

/** Plays the host's part over this many lives of the bot. */
export async function playHost(world: World, table: Table, lives: number): Promise<void> {
  for (const { at, what, does } of STEPS) {
    const planned = Math.max(1, Math.ceil(at * lives));
    await world.phases.reached(planned);
    world.phases.working(planned);
    await does(world, table);
    world.expected.done.push(what);
  }
  world.phases.working(null);
}

function step(at: number, what: string, does: Step['does']): Step {
  return { at, what, does };
}

function books(at: number, number: number, words: string): Step {
  return step(at, `book table ${number}`, (world) =>
    insist(
      `book T${number}`,
      () => command(world, 'ines', `/spoon book "Harbour Lamp" ${words}`),
      () => isBooked(world, number),
    ),
  );
}

/** Said to the bot in the table's thread, and once only: what is carried out twice shows. */
function mentions(at: number, words: string, isDone: (world: World) => boolean): Step {
  return step(at, words, async (world) => {
    const { ts } = await patiently(() => cardOf(world, 'ines', 'T1 ·'));
    await says(world, 'ines', `@Tallyspoon ${words}`, ts);
    if (!(await happens(() => isDone(world), PATIENCE_MS))) throw new Error(`the mention is lost: ${words}`);
  });
}

/** Closing and reopening, between the notes and not among them, so that it is certain which ones are late. */
function changes(at: number, action: string, state: string, stage: Stage): Step {
  return step(at, `${action} (${stage})`, (world, table) =>
    world.quietly(async () => {
      await sleep(CLOCK_NOTICED_MS);
      const act = async () => tap(world, 'ines', await cardOf(world, 'ines', 'T1 ·'), action);
      await insist(action, act, () => is(world, 1, state));
      await act().catch(() => null);
      table.stage = stage;
      await sleep(CLOCK_NOTICED_MS);
    }),
  );
}

async function comesTo(world: World, instant: string): Promise<void> {
  await happens(() => world.isUp, UP_WITHIN_MS);
  await world.quietly(async () => {
    if (world.workspace.clock.now() >= new Date(instant)) return;
    world.beforeReminders();
    await sleep(TAKES_AIM_MS);
    world.movedFrom = { clock: world.workspace.clock.now(), at: performance.now() };
    await world.client.clock({ to: instant });
    await sleep(CLOCK_NOTICED_MS);
  });
}

async function says(world: World, name: string, text: string, thread: string): Promise<void> {
  await world.client.say({ as: world.id(name), channel: world.channel, text, thread });
}

function isBooked(world: World, number: number): boolean {
  return count(world.database, 'select 1 from tasting where number = ?', number) > 0;
}

function is(world: World, number: number, state: string): boolean {
  return count(world.database, 'select 1 from tasting where number = ? and state = ?', number, state) > 0;
}

function hasAsk(world: World, state: string): boolean {
  const sql = `select 1 from ask join ask_for on ask_for.ask_id = ask.id join tasting on tasting.id = ask_for.tasting_id
    where tasting.number = 1 and ask.state = ?`;
  return count(world.database, sql, state) > 0;
}

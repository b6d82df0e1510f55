import { z } from 'zod';
import type { RunningBot } from '../../src/app/run.js';
import { seedScenario } from '../../src/app/seed.js';
import { CHANNEL, HOST, ROASTER, TASTERS, WORKSPACE } from './parts.js';
import { takeInNotes } from './take-in.js';

/* What the benchmark asks of the process in which the bot runs. None of it is measured. */

const Thread = z.object({ key: z.string(), ts: z.string() });
const Question = z.discriminatedUnion('ask', [
  z.object({ ask: z.literal('set tables'), tables: z.number() }),
  z.object({ ask: z.literal('settled') }),
  z.object({ ask: z.literal('counted') }),
  z.object({ ask: z.literal('take in'), threads: z.array(Thread), notes: z.number() }),
  z.object({ ask: z.literal('without a cup') }),
  z.object({ ask: z.literal('memory') }),
]);

export async function answerFor(running: RunningBot, asked: unknown): Promise<unknown> {
  const question = Question.parse(asked);
  switch (question.ask) {
    case 'set tables':
      return setTables(running, question.tables);
    case 'settled':
      return running.settled(600_000);
    case 'counted':
      return counted(running);
    case 'take in':
      return takeInNotes(running, question.threads, question.notes);
    case 'without a cup':
      return withoutCup(running);
    case 'memory':
      return memory();
  }
}

/** Books and opens tables at the same time, as a roastery with many teams would, and waits for their cards. */
async function setTables(running: RunningBot, tables: number): Promise<unknown> {
  const { deps, runtime } = running;
  const people = new Map([
    ['ines', HOST],
    ['bram', ROASTER],
  ]);
  await seedScenario(deps, WORKSPACE, people, CHANNEL);
  const type = (words: string) =>
    runtime.bot.typed(deps, {
      who: { workspace: WORKSPACE, person: HOST },
      channel: CHANNEL,
      threadTs: null,
      words,
      by: 'slash',
    });
  const seated = TASTERS.map((taster) => `<@${taster}>`).join(' ');
  for (let table = 0; table < tables; table += 1)
    await type(`book "Harbour Lamp" tomorrow 14:00 ratios 50/30/20 2:1:1 with ${seated}`);
  const booked = await deps.db
    .selectFrom('tasting')
    .select('number')
    .where('state', 'in', ['booked', 'ready'])
    .execute();
  for (const { number } of booked) await type(`table T${number} open`);
  runtime.wake();
  await running.settled(600_000);
  const threads = await deps.db
    .selectFrom('notice')
    .innerJoin('tasting', (join) =>
      join.on('notice.subject', '=', (eb) => eb.fn('concat', [eb.val('tasting:'), 'tasting.id'])),
    )
    .select(['notice.key', 'notice.ts'])
    .where('tasting.state', '=', 'open')
    .where('notice.ts', 'is not', null)
    .execute();
  return threads.filter(({ key }) => /^(table|cup):/.test(key));
}

/** Notes that are read and stored, and events that still wait. */
async function counted({ deps }: RunningBot): Promise<unknown> {
  const waiting = await deps.db
    .selectFrom('inbox')
    .select((eb) => eb.fn.countAll<number>().as('count'))
    .where('state', '=', 'waiting')
    .executeTakeFirstOrThrow();
  const last = await deps.db
    .selectFrom('reading')
    .select((eb) => eb.fn.max('note_id').as('id'))
    .executeTakeFirst();
  return { waiting: waiting.count, last: last?.id ?? 0 };
}

/** Notes whose writers are asked which cup they meant, with the cups they may tap. */
async function withoutCup({ deps }: RunningBot): Promise<unknown> {
  const notes = await deps.db
    .selectFrom('note')
    .innerJoin('tasting', 'tasting.id', 'note.tasting_id')
    .select(['note.id', 'note.person', 'note.tasting_id'])
    .where('tasting.state', '=', 'open')
    .where('note.home_cup_id', 'is', null)
    .limit(200)
    .execute();
  const cups = await deps.db
    .selectFrom('cup')
    .select(['id', 'tasting_id'])
    .where('tasting_id', 'in', [...new Set(notes.map((note) => note.tasting_id))])
    .execute();
  return notes.map(({ id, person, tasting_id }) => ({
    note: id,
    person,
    cups: cups.filter((cup) => cup.tasting_id === tasting_id).map((cup) => cup.id),
  }));
}

/** V8 gives pages back to the system some seconds after a collection, and not all at once. */
const GIVES_BACK_MS = 6000;
const STILL_GIVES_MB = 1;
const LOOKS = 8;

/** Memory after everything that is no longer used was collected and given back. */
async function memory(): Promise<unknown> {
  const { gc } = globalThis;
  if (!gc) throw new Error('the bot of the benchmark runs with --expose-gc');
  let before = Number.POSITIVE_INFINITY;
  for (let look = 1; ; look += 1) {
    for (let round = 0; round < 3; round += 1) gc();
    await new Promise((resolve) => setTimeout(resolve, GIVES_BACK_MS));
    gc();
    const { rss, heapUsed, external } = process.memoryUsage();
    const rssMb = rss / 2 ** 20;
    if (look === LOOKS || (look > 2 && before - rssMb < STILL_GIVES_MB))
      return { rssMb, heapMb: (heapUsed + external) / 2 ** 20 };
    before = rssMb;
  }
}

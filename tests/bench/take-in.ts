import type { RunningBot } from '../../src/app/run.js';
import { takeIn } from '../../src/slack/in/event-listener.js';
import { EventEnvelope } from '../../src/slack/in/slack-event.js';
import { notes, type Thread } from './requests.js';

/** Events that Slack has under way to the bot at the same time. */
const AT_ONCE = 20;
const LOOK_AGAIN_MS = 1;

/**
 * Seconds from the first event's receipt (Bolt has read the request and calls the listener) until every note
 * is counted: kept, read, and its mentions in the database.
 */
export async function takeInNotes(
  { runtime, deps }: RunningBot,
  threads: readonly Thread[],
  count: number,
): Promise<{ readonly seconds: number }> {
  const make = notes(threads);
  const bodies = Array.from({ length: count }, () => EventEnvelope.parse(JSON.parse(make().body)));
  const before = await stored(deps);
  const started = performance.now();
  const line = async () => {
    for (let body = bodies.pop(); body; body = bodies.pop()) await takeIn(runtime, body);
  };
  await Promise.all(Array.from({ length: AT_ONCE }, line));
  while ((await waiting(deps)) > 0) await new Promise((resolve) => setTimeout(resolve, LOOK_AGAIN_MS));
  const seconds = (performance.now() - started) / 1000;
  const counted = (await stored(deps)) - before;
  if (counted !== count) throw new Error(`${count} notes came in and ${counted} were counted`);
  return { seconds };
}

type Deps = RunningBot['deps'];

async function waiting({ db }: Deps): Promise<number> {
  const row = await db
    .selectFrom('inbox')
    .select((eb) => eb.fn.countAll<number>().as('count'))
    .where('state', '=', 'waiting')
    .executeTakeFirstOrThrow();
  return row.count;
}

async function stored({ db }: Deps): Promise<number> {
  const row = await db
    .selectFrom('reading')
    .select((eb) => eb.fn.countAll<number>().as('count'))
    .executeTakeFirstOrThrow();
  return row.count;
}

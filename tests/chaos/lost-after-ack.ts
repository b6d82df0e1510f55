import { z } from 'zod';
import type { Workspace } from '../../src/local/workspace.js';
import { SECRET_BEGINS } from './expected.js';
import { look } from './look.js';
import type { Acknowledged } from './watched-transport.js';

/** Of the world of a run: the bot's database, and the workspace with its clock. */
type Place = { readonly database: string; readonly workspace: Pick<Workspace, 'clock' | 'botUserId'> };

const Written = z.object({
  ts: z.string().optional(),
  thread_ts: z.string().optional(),
  user: z.string().optional(),
});
const Inner = Written.extend({
  type: z.string(),
  message: Written.optional(),
  previous_message: Written.optional(),
});
const Id = z.object({ event_id: z.string() });
const Thread = z.object({ ts: z.string() });

/** What is handled is forgotten after a day; the script moves the clock by several. */
const INBOX_REMEMBERS_MS = 24 * 60 * 60 * 1000;
const THREADS = "select ts from notice where ts is not null and (key like 'table:%' or key like 'cup:%')";

/** Does the bot have to keep this event? Only threads count whose card it knew when the event was sent. */
function mustBeKept(world: Place, { event, threads }: Acknowledged): boolean {
  const inner = Inner.safeParse(event);
  if (!inner.success || inner.data.type !== 'message') return false;
  const { data } = inner;
  const { ts, thread_ts: thread, user } = data.message ?? data.previous_message ?? data;
  if (thread === undefined || thread === ts || user === world.workspace.botUserId) return false;
  return threads.has(thread);
}

/**
 * What is acknowledged must be in the inbox the moment the answer is heard, as if the bot were killed at each
 * of them: looked up at once, before anything else happens here. People's talk must not be there.
 */
export function lostAtAck(world: Place, one: Acknowledged): readonly string[] {
  if (mayBeForgotten(world, one)) return [];
  const isTalk = JSON.stringify(one.event).includes(SECRET_BEGINS);
  if (!isTalk && !mustBeKept(world, one)) return [];
  const isKept =
    look(world.database, Id, 'select event_id from inbox where event_id = ?', one.eventId).length > 0;
  if (isTalk && isKept) return [`stored, and none of its business: ${described(one)}`];
  return isTalk || isKept ? [] : [`acknowledged before it was stored: ${described(one)}`];
}

/** What was acknowledged must still be in the inbox after the kill. */
export function lostAfterAck(
  world: Place & { readonly acknowledged: Acknowledged[] },
  phase: number,
): readonly string[] {
  const fresh = world.acknowledged.splice(0).filter((one) => !mayBeForgotten(world, one));
  const ids = new Set(look(world.database, Id, 'select event_id from inbox').map(({ event_id }) => event_id));
  return fresh
    .filter((one) => mustBeKept(world, one) && !ids.has(one.eventId))
    .map((one) => `life ${phase}: acknowledged and not stored: ${described(one)}`);
}

function mayBeForgotten(world: Place, { firstSentAt }: Acknowledged): boolean {
  return world.workspace.clock.now().getTime() - firstSentAt.getTime() >= INBOX_REMEMBERS_MS;
}

/** The threads whose card the bot knows now. */
export function knownThreads(world: Place): ReadonlySet<string> {
  return new Set(look(world.database, Thread, THREADS).map(({ ts }) => ts));
}

function described({ eventId, event }: Acknowledged): string {
  return `${eventId} ${JSON.stringify(event).slice(0, 160)}`;
}

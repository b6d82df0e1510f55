import { z } from 'zod';
import { look } from './look.js';
import type { World } from './world.js';

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

const DAYS_LATER = Date.UTC(2026, 10, 15);

const known = new WeakMap<World, { threads: ReadonlySet<string>; checked: number }>();

/**
 * What the bot acknowledged must be in its inbox the moment it is killed. Only threads count whose card the
 * bot knew before this life: a card found again later has its thread read anew instead.
 */
export function lostAfterAck(world: World, phase: number): readonly string[] {
  // After a day the inbox forgets what it has handled.
  if (world.workspace.clock.now().getTime() > DAYS_LATER) return [];
  const before = known.get(world) ?? { threads: new Set<string>(), checked: 0 };
  const fresh = world.acknowledged.slice(before.checked);
  const ids = new Set(
    look(world.database, z.object({ event_id: z.string() }), 'select event_id from inbox').map(
      ({ event_id }) => event_id,
    ),
  );
  const lost = fresh.filter(({ eventId, event }) => {
    const inner = Inner.safeParse(event);
    if (!inner.success || inner.data.type !== 'message') return false;
    const { data } = inner;
    const { ts, thread_ts: thread, user } = data.message ?? data.previous_message ?? data;
    if (thread === undefined || thread === ts || user === world.workspace.botUserId) return false;
    return before.threads.has(thread) && !ids.has(eventId);
  });
  const threads = look(
    world.database,
    z.object({ ts: z.string() }),
    "select ts from notice where ts is not null and (key like 'table:%' or key like 'cup:%')",
  ).map(({ ts }) => ts);
  known.set(world, { threads: new Set(threads), checked: world.acknowledged.length });
  return lost.map(
    ({ eventId, event }) =>
      `life ${phase}: acknowledged and not stored: ${eventId} ${JSON.stringify(event).slice(0, 160)}`,
  );
}

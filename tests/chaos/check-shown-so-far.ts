import { z } from 'zod';
import { look } from './look.js';
import type { World } from './world.js';

const Row = z.object({
  key: z.string(),
  channel: z.string(),
  ts: z.string(),
  text: z.string().nullable(),
});
const SAID_TO_BE_SHOWN = `select key, channel, ts, json_extract(wanted_json, '$.message.text') as text from notice
  where kind = 'message' and state = 'kept' and shown_hash = wanted_hash and channel is not null and ts is not null`;
const LIVE = "select text from message where channel = ? and ts = ? and state = 'live'";

/** At each kill: a message that the bot has down as shown stands in Slack, with these words. */
export function checkShownSoFar(world: World, phase: number): readonly string[] {
  return look(world.database, Row, SAID_TO_BE_SHOWN).flatMap(({ key, channel, ts, text }) => {
    const [live] = look(world.slack, z.object({ text: z.string() }), LIVE, channel, ts);
    if (live?.text === (text ?? undefined)) return [];
    return [
      `life ${phase}: notice ${key} is down as shown and says “${(live?.text ?? 'nothing').slice(0, 80)}”`,
    ];
  });
}

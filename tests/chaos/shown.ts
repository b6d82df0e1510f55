import { z } from 'zod';
import { look } from './look.js';
import type { World } from './world.js';

/* What stands in Slack, read from the workspace's own database. */

const json = <T extends z.ZodType>(schema: T) =>
  z
    .string()
    .transform((text): unknown => JSON.parse(text))
    .pipe(schema);
const Blocks = z.array(z.looseObject({ type: z.string() }));
const Metadata = z.object({
  event_type: z.string(),
  event_payload: z.object({ key: z.string() }),
});

const MessageRow = z
  .object({
    channel: z.string(),
    ts: z.string(),
    text: z.string(),
    blocks: json(Blocks),
    metadata: json(Metadata),
  })
  .transform(({ metadata, ...row }) => ({ ...row, key: metadata.event_payload.key }));

/** A message of the bot that carries a notice's key. */
export type ShownMessage = z.output<typeof MessageRow>;

/** Every live message of the bot that is a notice. */
export function botMessages(world: World): readonly ShownMessage[] {
  return look(
    world.slack,
    MessageRow,
    "select channel, ts, text, blocks, metadata from message where state = 'live' and metadata is not null",
  );
}

/** The bot's reactions on one message. */
export function botReactions(world: World, channel: string, ts: string): readonly string[] {
  const sql = `select name from reaction join message using (channel, ts)
    where channel = ? and ts = ? and reaction.person = ? and state = 'live' order by name`;
  const found = look(
    world.slack,
    z.object({ name: z.string() }),
    sql,
    channel,
    ts,
    world.workspace.botUserId,
  );
  return found.map(({ name }) => name);
}

/** The blocks of a person's home tab, without the ids that Slack gives. */
export async function homeOf(world: World, person: string): Promise<unknown> {
  const view = await world.client.home(person);
  const text = JSON.stringify(view?.blocks ?? [], (key, value: unknown) =>
    key === 'block_id' ? undefined : value,
  );
  return z.json().parse(JSON.parse(text));
}

/** What happens to messages, whoever does it: kept in one transaction, told to the bot, shown on open pages. */
import { z } from 'zod';
import type { Channel, JsonObject } from './api-types.js';
import { checkMessage, type MessagePayload } from './block-kit/check-message.js';
import { limits } from './block-kit/limits.js';
import { wording } from './block-kit/problems.js';
import { completedBlocks } from './block-kit/walk.js';
import type { Context } from './context.js';
import { messageChanged, messageDeleted, messagePosted } from './deliver/events.js';
import { objectsIn } from './json.js';
import { SlackError } from './refusals.js';
import { findChannel } from './state/channels.js';
import { findFile } from './state/files.js';
import {
  addReaction,
  insertMessage,
  type NewMessage,
  removeReaction,
  repliesOf,
  rewriteMessage,
  type StoredMessage,
} from './state/messages.js';

/** Refuses, as Slack does, what does not fit; answers the blocks as they are kept. */
export function acceptedBlocks(ctx: Context, payload: MessagePayload, use: 'post' | 'update'): JsonObject[] {
  const problems = checkMessage(payload, use);
  const [first] = problems;
  if (first !== undefined) {
    throw refusal(first.error, problems.filter((problem) => problem.error === first.error).map(wording));
  }
  const blocks = objectsIn(payload.blocks);
  const unknown = slackFiles(blocks).filter((id) => findFile(ctx.db, id) === undefined);
  if (unknown.length > 0) {
    throw refusal(
      'invalid_blocks',
      unknown.map((id) => `[ERROR] invalid slack file: ${id} [json-pointer:/blocks]`),
    );
  }
  return completedBlocks(blocks);
}

function refusal(code: string, messages: readonly string[]): SlackError {
  return new SlackError(code, { errors: messages, response_metadata: { messages } });
}

function slackFiles(value: unknown): readonly string[] {
  if (Array.isArray(value)) return value.flatMap(slackFiles);
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, one]) => {
    if (key !== 'slack_file' || typeof one !== 'object' || one === null) return slackFiles(one);
    return 'id' in one && typeof one.id === 'string' ? [one.id] : [];
  });
}

/** Posts a message, the bot's or a person's; what only one person sees is told to nobody else. */
export function postMessage(
  ctx: Context,
  channel: Channel,
  given: Omit<NewMessage, 'channel' | 'ts'>,
  /** What belongs into the same transaction. */
  along: (message: StoredMessage) => void = () => undefined,
): StoredMessage {
  const message = ctx.db.transaction(() => {
    const kept = insertMessage(ctx.db, { ...given, channel: channel.id, ts: ctx.newTs() });
    along(kept);
    if (kept.ephemeralTo === null) messagePosted(ctx, channel, kept);
    return kept;
  })();
  announce(ctx, message);
  return message;
}

/** Posts as the bot, however it asked for it (a method, a response URL, an acknowledgement). */
export function postAsBot(
  ctx: Context,
  channel: Channel,
  given: Omit<NewMessage, 'channel' | 'ts' | 'person'>,
): StoredMessage {
  return postMessage(ctx, channel, {
    ...given,
    text: given.text.slice(0, limits.postText),
    person: ctx.identity.botUserId,
    botId: ctx.identity.botId,
    subtype: given.files !== undefined && given.files.length > 0 ? 'file_share' : null,
  });
}

/** An answer for one person; to answer all of a channel, or in the place of a message, is not played. */
const Response = z.strictObject({
  text: z.string().optional(),
  blocks: z.unknown().optional(),
  response_type: z.literal('ephemeral').optional(),
  replace_original: z.literal(false).optional(),
});

/** Shows one person what the bot answers to their command or tap, where they were. */
export function respond(
  ctx: Context,
  origin: { readonly person: string; readonly channel: string },
  given: unknown,
): StoredMessage {
  const response = Response.safeParse(given).data;
  if (response === undefined) throw new SlackError('invalid_payload');
  const channel = findChannel(ctx.db, origin.channel);
  if (channel === undefined) throw new SlackError('channel_not_found');
  if (channel.isArchived) throw new SlackError('is_archived');
  const blocks = acceptedBlocks(ctx, response, 'post');
  return postAsBot(ctx, channel, { text: response.text ?? '', blocks, ephemeralTo: origin.person });
}

/** Puts one state of a message in the place of another. */
export function changeMessage(
  ctx: Context,
  channel: Channel,
  before: StoredMessage,
  after: StoredMessage,
): void {
  ctx.db.transaction(() => {
    rewriteMessage(ctx.db, after);
    if (before.ephemeralTo === null) messageChanged(ctx, channel, before, after);
  })();
  announce(ctx, after);
}

/** Slack's stand-in for the deleted parent of a thread whose replies stay. */
const TOMBSTONE = { subtype: 'tombstone', text: 'This message was deleted.', state: 'tombstone' } as const;

/** Deletes a message; a parent with replies leaves a tombstone and is told as a change. */
export function removeMessage(ctx: Context, channel: Channel, before: StoredMessage): void {
  const emptied = { ...before, blocks: [], metadata: null };
  if (repliesOf(ctx.db, channel.id, before.ts).count > 0) {
    changeMessage(ctx, channel, before, { ...emptied, files: [], editedTs: null, ...TOMBSTONE });
    return;
  }
  ctx.db.transaction(() => {
    rewriteMessage(ctx.db, { ...emptied, text: '', state: 'deleted' });
    if (before.ephemeralTo === null) messageDeleted(ctx, channel, before);
  })();
  announce(ctx, before);
}

/** Adds or takes away somebody's reaction; false when there was nothing to do. */
export function changeReaction(
  ctx: Context,
  message: StoredMessage,
  kind: 'added' | 'removed',
  name: string,
  person: string,
): boolean {
  const changed =
    kind === 'added'
      ? addReaction(ctx.db, message, name, person, ctx.clock.now().getTime())
      : removeReaction(ctx.db, message, name, person);
  if (changed) announce(ctx, message);
  return changed;
}

/** After the commit: open pages hear of it, and the courier goes out. */
function announce(ctx: Context, message: StoredMessage): void {
  ctx.changes.publish({ kind: 'message', channel: message.channel, ts: message.ts });
  ctx.events.wake();
}

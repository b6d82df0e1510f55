import { z } from 'zod';
import type { NoticeRow } from '../store/notices.js';
import { readFailure } from './call-outcome.js';
import type { KeeperTools, Kept, NoticeOf } from './keeper-types.js';

/** Shows something to one person once. Slack cannot be asked whether it did, so an unclear try is repeated. */
export async function keepPrivate(
  { house }: KeeperTools,
  row: NoticeRow,
  notice: NoticeOf<'private'>,
): Promise<Kept> {
  await house.web.chat.postEphemeral({
    channel: notice.channel,
    user: notice.person,
    ...(notice.threadTs === null ? {} : { thread_ts: notice.threadTs }),
    text: notice.message.text,
    blocks: [...notice.message.blocks],
  });
  return { kind: 'shown', step: { shown_hash: row.wanted_hash, channel: notice.channel } };
}

/** A person's home tab. */
export async function keepHome(
  { house }: KeeperTools,
  row: NoticeRow,
  notice: NoticeOf<'home'>,
): Promise<Kept> {
  await house.web.views.publish({ user_id: notice.person, view: notice.view });
  return { kind: 'shown', step: { shown_hash: row.wanted_hash } };
}

const Standing = z.object({
  name: z.string().nullable(),
  /** Reactions that were wanted in between, and may have been made. */
  maybe: z.array(z.string().nullable()).default([]),
});

/** The bot's one reaction on a message: the earlier one is taken away first. */
export async function keepReaction(
  { house, onMissing }: KeeperTools,
  row: NoticeRow,
  notice: NoticeOf<'reaction'>,
): Promise<Kept> {
  const { channel, ts: timestamp, name } = notice;
  const standing = row.shown_json === null ? null : Standing.parse(JSON.parse(row.shown_json));
  for (const other of new Set([standing?.name, ...(standing?.maybe ?? [])]))
    if (other && other !== name)
      await tolerating(() => house.web.reactions.remove({ channel, timestamp, name: other }));
  if (name !== null) {
    const refusal = await tolerating(() => house.web.reactions.add({ channel, timestamp, name }));
    if (refusal === 'message_not_found') onMissing(channel, timestamp);
  }
  const step = { shown_hash: row.wanted_hash, shown_json: JSON.stringify({ name }), channel, ts: timestamp };
  return { kind: 'shown', step };
}

const AS_GOOD_AS_DONE = new Set(['already_reacted', 'no_reaction', 'message_not_found', 'thread_locked']);

/** The refusal, when it is one that leaves things as good as done; null when Slack did it. */
async function tolerating(call: () => Promise<unknown>): Promise<string | null> {
  try {
    await call();
    return null;
  } catch (error) {
    const failure = readFailure(error);
    if (failure.kind !== 'refused' || !AS_GOOD_AS_DONE.has(failure.error)) throw error;
    return failure.error;
  }
}

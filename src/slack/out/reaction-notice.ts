import { z } from 'zod';
import type { NoticeRow, NoticeStep } from '../../store/notices.js';
import { isRefused } from './call-failure.js';
import type { KeeperTools, NoticeOf } from './keeper-tools.js';

const Standing = z.object({
  name: z.string().nullable(),
  /** Reactions that were wanted in between, and may have been made. */
  maybe: z.array(z.string().nullable()).default([]),
});

/** The bot's one reaction on a message: the earlier one is taken away first. */
export async function showReaction(
  { web, onMissing }: KeeperTools,
  row: NoticeRow,
  notice: NoticeOf<'reaction'>,
): Promise<NoticeStep> {
  const { channel, ts: timestamp, name } = notice;
  const standing = row.shown_json === null ? null : Standing.parse(JSON.parse(row.shown_json));
  for (const other of new Set([standing?.name, ...(standing?.maybe ?? [])]))
    if (other && other !== name)
      await tolerating(() => web.reactions.remove({ channel, timestamp, name: other }));
  if (name !== null)
    await tolerating(
      () => web.reactions.add({ channel, timestamp, name }),
      () => onMissing(channel, timestamp),
    );
  return { shown_json: JSON.stringify({ name }), channel, ts: timestamp };
}

/** A refusal may leave things as good as done: the reaction is there already, or there is nothing to react to. */
async function tolerating(call: () => Promise<unknown>, onMissing?: () => void): Promise<void> {
  try {
    await call();
  } catch (error) {
    if (isRefused(error, 'message_not_found')) onMissing?.();
    else if (!isRefused(error, 'already_reacted', 'no_reaction', 'thread_locked')) throw error;
  }
}

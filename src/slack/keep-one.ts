import type { Notice } from '../kit/notice.js';
import { markChanged } from '../store/changed.js';
import { findNotice, type NoticeRow, type NoticeStep, stepNotice } from '../store/notices.js';
import { inTransaction } from '../store/transaction.js';
import { type CallFailure, readFailure } from './call-outcome.js';
import { keepFile } from './keep-file.js';
import { keepMessage } from './keep-message.js';
import { keepHome, keepPrivate, keepReaction } from './keep-others.js';
import type { KeeperTools, Kept } from './keeper-types.js';
import type { Pauses } from './pauses.js';
import { parseNotice } from './wanted.js';

/** Slack will say the same for ever, until somebody changes something in Slack. */
const BEYOND_HEALING = new Set([
  'account_inactive',
  'cannot_dm_bot',
  'cannot_reply_to_message',
  'cant_update_message',
  'channel_not_found',
  'edit_window_closed',
  'invalid_name',
  'is_archived',
  'messages_tab_disabled',
  'missing_scope',
  'not_enabled',
  'not_in_channel',
  'posting_to_channel_denied',
  'restricted_action',
  'restricted_action_read_only_channel',
  'restricted_action_thread_only_channel',
  'thread_not_found',
  'user_disabled',
  'user_not_found',
  'user_not_in_channel',
  'user_not_visible',
]);
/** The token is the trouble, not the notice: it waits for a good one. */
const TOKEN_TROUBLE = new Set(['invalid_auth', 'not_authed', 'token_expired', 'token_revoked']);

const TRIES_WHEN_REFUSED = 5;
const TRIES_FOR_A_PICTURE = 6;
const LONGEST_WAIT_MS = 60_000;

/** One try at one notice; false when it has to be tried again, so that later posts in its place wait. */
export async function keepOne(
  tools: KeeperTools,
  pauses: Pauses,
  seen: Pick<NoticeRow, 'workspace' | 'key'>,
): Promise<boolean> {
  const { house } = tools;
  const row = await findNotice(house.deps.db, seen.workspace, seen.key);
  if (row === null || row.state === 'stopped' || row.wanted_hash === row.shown_hash) return true;
  const method = methodOf(row);
  const pause = pauses.remaining(method);
  if (pause > 0) return putOff(tools, row, pause, {});
  try {
    const kept = await keep(tools, row, parseNotice(row));
    return await settle(tools, row, kept);
  } catch (error) {
    const failure = readFailure(error);
    house.counters.refusedCalls.inc({ outcome: failure.kind });
    house.deps.log.warn({ failure, kind: row.kind, key: row.key }, 'a notice could not be shown yet');
    if (failure.kind === 'rate limited') pauses.pause(method, failure.retryMs);
    return await recover(tools, row, failure);
  }
}

function keep(tools: KeeperTools, row: NoticeRow, notice: Notice): Promise<Kept> {
  switch (notice.kind) {
    case 'message':
      return keepMessage(tools, row, notice);
    case 'private':
      return keepPrivate(tools, row, notice);
    case 'reaction':
      return keepReaction(tools, row, notice);
    case 'home':
      return keepHome(tools, row, notice);
    case 'file':
      return keepFile(tools, row, notice);
  }
}

async function settle(tools: KeeperTools, row: NoticeRow, kept: Kept): Promise<boolean> {
  const { counters, relaxed } = tools.house;
  if (kept.kind === 'blocked') return false;
  if (kept.kind === 'shown' || row.attempts >= TRIES_FOR_A_PICTURE) {
    counters.shown.inc({ kind: row.kind });
    const hash = { shown_hash: row.wanted_hash };
    const step = { ...kept.step, ...hash, attempts: 0, next_try_at: null, error: null };
    await relaxed((db) => stepNotice(db, row, step));
    return true;
  }
  // The message stands; only its picture is still to come, and nothing waits for that.
  await putOff(tools, row, waitMs(row), { ...kept.step, error: kept.error });
  return true;
}

async function recover(tools: KeeperTools, row: NoticeRow, failure: CallFailure): Promise<boolean> {
  // When Slack said no, nothing was posted; a doubt from an earlier try stays until the message was looked for.
  const settled: NoticeStep =
    failure.kind !== 'unclear' && row.state === 'kept' ? { state: 'kept', posting_since: null } : {};
  if (failure.kind === 'rate limited') return putOff(tools, row, failure.retryMs, settled);
  if (failure.kind === 'refused' && !TOKEN_TROUBLE.has(failure.error)) {
    if (BEYOND_HEALING.has(failure.error) || row.attempts + 1 >= TRIES_WHEN_REFUSED)
      return stop(tools, row, failure.error);
  }
  return putOff(tools, row, waitMs(row), { ...settled, error: failure.error });
}

async function putOff(tools: KeeperTools, row: NoticeRow, ms: number, step: NoticeStep): Promise<false> {
  const { deps, relaxed } = tools.house;
  const next = new Date(deps.clock.now().getTime() + ms).toISOString();
  await relaxed((db) => stepNotice(db, row, { ...step, attempts: row.attempts + 1, next_try_at: next }));
  return false;
}

async function stop(tools: KeeperTools, row: NoticeRow, error: string): Promise<true> {
  const { deps, counters } = tools.house;
  const notice = parseNotice(row);
  const channel = row.channel ?? channelOf(notice);
  // Told together with being given up: the subject's own notices say so to the host.
  await inTransaction(deps.db, async (trx) => {
    await stepNotice(trx, row, { state: 'stopped', posting_since: null, channel, error });
    await markChanged(trx, row.workspace, row.subject, deps.clock.now());
  });
  counters.stopped.inc();
  deps.log.error({ key: row.key, error }, 'Slack will not take a notice; it is given up');
  const { workspace, key, subject, kind } = row;
  await tools.onStopped({ workspace, key, subject, kind, channel, error });
  return true;
}

function channelOf(notice: Notice): string | null {
  if (notice.kind === 'private' || notice.kind === 'reaction') return notice.channel;
  if (notice.kind === 'home') return null;
  return notice.place.kind === 'channel' ? notice.place.channel : null;
}

function waitMs(row: NoticeRow): number {
  return Math.min(1000 * 2 ** row.attempts, LONGEST_WAIT_MS);
}

/** What Slack counts together when it asks to wait: posts by channel, everything else by method. */
function methodOf(row: NoticeRow): string {
  if (row.kind !== 'message') return row.kind;
  return row.ts === null ? `post ${row.channel ?? row.place_json}` : 'update';
}

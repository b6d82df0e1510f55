import type { Notice } from '../../kit/notice.js';
import { markChanged } from '../../store/changed.js';
import { inTransaction } from '../../store/db.js';
import { threadOfNote } from '../../store/notes.js';
import { findNotice, type NoticeRow, type NoticeStep, Reaction, stepNotice } from '../../store/notices.js';
import type { Runtime } from '../runtime.js';
import { postEphemeral } from './answers.js';
import { type CallFailure, isDoneOn, readFailure } from './call-failure.js';
import { showFile } from './file-notice.js';
import { showMessage } from './message-notice.js';
import { type NoticeOf, parseNotice } from './stored-notice.js';

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

/** Until when (milliseconds since 1970) Slack asked to leave a method alone in a place; everything else goes on. */
export type Pauses = Map<string, number>;

/** One try at one notice; false when it has to be tried again, so that later posts in its place wait. */
export async function showNotice(
  runtime: Runtime,
  pauses: Pauses,
  seen: Pick<NoticeRow, 'workspace' | 'key'>,
): Promise<boolean> {
  const { deps, counters } = runtime;
  const row = await findNotice(deps.db, seen.workspace, seen.key);
  if (row === null || row.state === 'stopped' || row.wanted_hash === row.shown_hash) return true;
  const method = methodOf(row);
  const pauseMs = (pauses.get(method) ?? 0) - deps.clock.now().getTime();
  if (pauseMs > 0) return putOff(runtime, row, pauseMs, {});
  try {
    const step = await show(runtime, row, parseNotice(row));
    return step !== null && (await markShown(runtime, row, step));
  } catch (error) {
    const failure = readFailure(error);
    counters.refusedCalls.inc({ outcome: failure.kind });
    deps.log.warn({ failure, kind: row.kind, key: row.key }, 'a notice could not be shown yet');
    if (failure.kind === 'rate limited') pauses.set(method, deps.clock.now().getTime() + failure.retryMs);
    return recover(runtime, row, failure);
  }
}

/** What changes in the notice's row once Slack shows it; null when it has to wait for another notice first. */
async function show(runtime: Runtime, row: NoticeRow, notice: Notice): Promise<NoticeStep | null> {
  switch (notice.kind) {
    case 'message':
      return showMessage(runtime, row, notice);
    case 'file':
      return showFile(runtime, row, notice);
    case 'reaction':
      return showReaction(runtime, row, notice);
    case 'home':
      await runtime.web.views.publish({ user_id: notice.person, view: notice.view });
      return {};
    case 'private':
      // Slack cannot be asked whether it showed it, so an unclear try is repeated.
      await postEphemeral(runtime, notice, notice.message);
      return { channel: notice.channel };
  }
}

/** The bot's one reaction on a message: the earlier one is taken away first. */
async function showReaction(
  runtime: Runtime,
  row: NoticeRow,
  { channel, ts: timestamp, name }: NoticeOf<'reaction'>,
): Promise<NoticeStep> {
  const { web, deps } = runtime;
  const shown = Reaction.parse(JSON.parse(row.shown_json ?? '{}'));
  for (const other of new Set([shown.name, ...shown.maybe]))
    if (other && other !== name)
      await tolerating(() => web.reactions.remove({ channel, timestamp, name: other }));
  const isThere = name === null || (await tolerating(() => web.reactions.add({ channel, timestamp, name })));
  // Word that the note was taken back may never have come.
  const message = { workspace: row.workspace, channel, ts: timestamp };
  const threadTs = isThere ? null : await threadOfNote(deps.db, message);
  if (threadTs !== null) runtime.rereadThread(channel, threadTs);
  return { shown_json: JSON.stringify({ name }), channel, ts: timestamp };
}

/** False when there is no message to react to. */
function tolerating(call: () => Promise<unknown>): Promise<boolean> {
  return isDoneOn(call, 'already_reacted', 'no_reaction', 'thread_locked');
}

async function markShown(runtime: Runtime, row: NoticeRow, step: NoticeStep): Promise<true> {
  if (step.error && row.attempts < TRIES_FOR_A_PICTURE) {
    // The message stands; only its picture is still to come, and nothing waits for that.
    await putOff(runtime, row, waitMs(row), { ...step, shown_hash: null });
    return true;
  }
  runtime.counters.shown.inc({ kind: row.kind });
  const done = { shown_hash: row.wanted_hash, attempts: 0, next_try_at: null, error: null };
  await runtime.relaxed((db) => stepNotice(db, row, { ...step, ...done }));
  return true;
}

async function recover(runtime: Runtime, row: NoticeRow, failure: CallFailure): Promise<boolean> {
  // When Slack said no, nothing was posted; a doubt from an earlier try stays until the message was looked for.
  const certain: NoticeStep =
    failure.kind !== 'unclear' && row.state === 'kept' ? { state: 'kept', posting_since: null } : {};
  if (failure.kind === 'rate limited') return putOff(runtime, row, failure.retryMs, certain);
  if (failure.kind === 'refused' && !TOKEN_TROUBLE.has(failure.error)) {
    if (BEYOND_HEALING.has(failure.error) || row.attempts + 1 >= TRIES_WHEN_REFUSED)
      return stop(runtime, row, failure.error);
  }
  return putOff(runtime, row, waitMs(row), { ...certain, error: failure.error });
}

async function putOff(
  { deps, relaxed }: Runtime,
  row: NoticeRow,
  ms: number,
  step: NoticeStep,
): Promise<false> {
  const next = new Date(deps.clock.now().getTime() + ms).toISOString();
  await relaxed((db) => stepNotice(db, row, { ...step, attempts: row.attempts + 1, next_try_at: next }));
  return false;
}

async function stop(runtime: Runtime, row: NoticeRow, error: string): Promise<true> {
  const { deps, counters } = runtime;
  const channel = row.channel ?? channelOf(parseNotice(row));
  // Told together with being given up: the subject's own notices say so to the host.
  await inTransaction(deps.db, async (trx) => {
    await stepNotice(trx, row, { state: 'stopped', posting_since: null, channel, error });
    await markChanged(trx, row.workspace, row.subject, deps.clock.now());
  });
  counters.stopped.inc();
  deps.log.error({ key: row.key, channel, error }, 'Slack will not take a notice; it is given up');
  runtime.wake();
  return true;
}

function channelOf(notice: Notice): string | null {
  const place = 'place' in notice ? notice.place : notice;
  return 'channel' in place ? place.channel : null;
}

function waitMs(row: NoticeRow): number {
  return Math.min(1000 * 2 ** row.attempts, LONGEST_WAIT_MS);
}

/** What Slack counts together when it asks to wait: posts by channel, everything else by method. */
function methodOf(row: NoticeRow): string {
  if (row.kind !== 'message') return row.kind;
  return row.ts === null ? `post ${row.channel ?? row.place_json}` : 'update';
}

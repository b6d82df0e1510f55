import type { KnownBlock } from '@slack/types';
import { shorten } from '../kit/escape.js';
import { type NoticeRow, stepNotice } from '../store/notices.js';
import { readFailure } from './call-outcome.js';
import { travellingKey } from './canonical.js';
import { findPosted } from './find-posted.js';
import type { KeeperTools, Kept, NoticeOf } from './keeper-types.js';
import { pictureBlock } from './picture-block.js';
import { type Target, targetOf } from './slack-target.js';

/** `chat.update` refuses more; what is longer is in the blocks. */
const TEXT_LIMIT = 3900;
const EVENT_TYPE = 'tallyspoon_notice';

type Payload = { readonly text: string; readonly blocks: KnownBlock[]; readonly missing: string | null };

/** Makes a message stand as it is wanted: posts it once, updates it afterwards, deletes it when unwanted. */
export async function keepMessage(
  tools: KeeperTools,
  row: NoticeRow,
  notice: NoticeOf<'message'>,
): Promise<Kept> {
  const { house } = tools;
  const target = await targetOf(house, row.workspace, notice.place);
  if (target === null) return notice.message === null ? shown(row, {}) : { kind: 'blocked' };
  const ts = row.ts ?? (row.state === 'posting' ? await findAgain(tools, row, target) : null);
  const channel = row.channel ?? target.channel;
  if (notice.message === null) return remove(tools, row, channel, ts);
  const payload = await payloadOf(tools, row, notice, notice.message);
  if (ts !== null && (await update(tools, channel, ts, payload)))
    return shown(row, { channel, ts }, payload.missing);
  return post(tools, row, target, payload);
}

async function post(tools: KeeperTools, row: NoticeRow, target: Target, payload: Payload): Promise<Kept> {
  const { deps, web } = tools.house;
  // Committed before the call: whatever happens after it, the message is looked for before it is posted again.
  await stepNotice(deps.db, row, {
    state: 'posting',
    posting_since: row.posting_since ?? deps.clock.now().toISOString(),
    channel: target.channel,
    ts: null,
  });
  const send = (blocks: KnownBlock[]) =>
    web.chat.postMessage({
      channel: target.channel,
      ...(target.threadTs === null ? {} : { thread_ts: target.threadTs }),
      text: payload.text,
      blocks,
      unfurl_links: false,
      unfurl_media: false,
      metadata: {
        event_type: EVENT_TYPE,
        event_payload: { key: travellingKey(row.workspace, row.key) },
      },
    });
  const { answer, plain } = await sendOrPlain(tools, payload.blocks, send);
  if (!answer.ts) throw new Error('Slack posted a message without saying where');
  const place = { channel: answer.channel ?? target.channel, ts: answer.ts };
  return shown(row, place, plain ? null : payload.missing);
}

/** False when the message is not there any more, so that it has to be posted anew. */
async function update(tools: KeeperTools, channel: string, ts: string, payload: Payload): Promise<boolean> {
  try {
    await sendOrPlain(tools, payload.blocks, (blocks) =>
      tools.house.web.chat.update({ channel, ts, text: payload.text, blocks }),
    );
    return true;
  } catch (error) {
    const failure = readFailure(error);
    if (failure.kind === 'refused' && failure.error === 'message_not_found') return false;
    throw error;
  }
}

/** A message whose blocks Slack refuses is shown as its text, which stands alone; the refusal is logged. */
async function sendOrPlain<T>(
  tools: KeeperTools,
  blocks: KnownBlock[],
  send: (blocks: KnownBlock[]) => Promise<T>,
): Promise<{ readonly answer: T; readonly plain: boolean }> {
  try {
    return { answer: await send(blocks), plain: false };
  } catch (error) {
    const failure = readFailure(error);
    if (failure.kind !== 'refused' || !/^(invalid_blocks|msg_blocks_too_long)/.test(failure.error))
      throw error;
    tools.house.deps.log.error({ err: error }, 'Slack refused the blocks of a message; it is shown as text');
    return { answer: await send([]), plain: true };
  }
}

async function remove(tools: KeeperTools, row: NoticeRow, channel: string, ts: string | null): Promise<Kept> {
  if (ts !== null) {
    try {
      await tools.house.web.chat.delete({ channel, ts });
    } catch (error) {
      const failure = readFailure(error);
      if (failure.kind !== 'refused' || failure.error !== 'message_not_found') throw error;
    }
  }
  return shown(row, { ts: null });
}

/** The message of a post whose outcome is not known; should Slack have it twice, the later ones go. */
async function findAgain(tools: KeeperTools, row: NoticeRow, target: Target): Promise<string | null> {
  const key = travellingKey(row.workspace, row.key);
  const since = new Date(row.posting_since ?? 0);
  const [first, ...more] = await findPosted(
    tools.house,
    target,
    since,
    ({ metadata }) => metadata?.event_type === EVENT_TYPE && metadata.event_payload['key'] === key,
  );
  for (const { ts } of more) await tools.house.web.chat.delete({ channel: target.channel, ts });
  if (!first) return null;
  await stepNotice(tools.house.deps.db, row, { channel: target.channel, ts: first.ts, state: 'kept' });
  tools.onFound(target.channel, first.ts);
  return first.ts;
}

async function payloadOf(
  tools: KeeperTools,
  row: NoticeRow,
  notice: NoticeOf<'message'>,
  message: { readonly text: string; readonly blocks: readonly KnownBlock[] },
): Promise<Payload> {
  const text = shorten(message.text, TEXT_LIMIT);
  if (!notice.picture) return { text, blocks: [...message.blocks], missing: null };
  const picture = await pictureBlock(tools, row.workspace, notice.picture);
  return picture.ok
    ? { text, blocks: [...message.blocks, picture.block], missing: null }
    : { text, blocks: [...message.blocks], missing: picture.error };
}

function shown(
  row: NoticeRow,
  place: { channel?: string; ts?: string | null },
  missing: string | null = null,
): Kept {
  const step = { ...place, state: 'kept', posting_since: null, shown_hash: row.wanted_hash };
  return missing === null
    ? { kind: 'shown', step }
    : { kind: 'partly', step: { ...step, shown_hash: null }, error: missing };
}

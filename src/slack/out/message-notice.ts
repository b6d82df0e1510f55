import type { KnownBlock } from '@slack/types';
import { shorten } from '../../kit/escape.js';
import { type NoticeRow, type NoticeStep, stepNotice } from '../../store/notices.js';
import type { Runtime, SlackPlace } from '../runtime.js';
import { isDoneOn, readFailure } from './call-failure.js';
import { findPlace, findPosted } from './slack-places.js';
import { type NoticeOf, travellingKey } from './stored-notice.js';
import { pictureBlock } from './uploads.js';

/** `chat.update` refuses more; what is longer is in the blocks. */
const TEXT_LIMIT = 3900;
const EVENT_TYPE = 'tallyspoon_notice';

type Payload = { readonly text: string; readonly blocks: KnownBlock[] };

/**
 * Makes a message stand as it is wanted: posts it once, updates it afterwards, deletes it when unwanted. Null
 * while the notice does not stand under which it belongs.
 */
export async function showMessage(
  runtime: Runtime,
  row: NoticeRow,
  notice: NoticeOf<'message'>,
): Promise<NoticeStep | null> {
  const { web } = runtime;
  const { message, picture } = notice;
  const target = await findPlace(runtime, row.workspace, notice.place);
  if (target === null) return message === null ? SHOWN : null;
  const ts = row.ts ?? (row.state === 'posting' ? await findAgain(runtime, row, target) : null);
  const channel = row.channel ?? target.channel;
  if (message === null) {
    if (ts !== null) await isDoneOn(() => web.chat.delete({ channel, ts }));
    return { ...SHOWN, ts: null };
  }
  const drawn = picture ? await pictureBlock(runtime, row.workspace, picture) : null;
  const payload = {
    text: shorten(message.text, TEXT_LIMIT),
    blocks: [...message.blocks, ...(drawn ? [drawn] : [])],
  };
  const missing = picture && !drawn ? { error: 'the picture is missing' } : {};
  if (ts !== null && (await update(runtime, channel, ts, payload)))
    return { ...SHOWN, ...missing, channel, ts };
  const { isPlain, ...place } = await post(runtime, row, target, payload);
  return { ...SHOWN, ...(isPlain ? {} : missing), ...place };
}

const SHOWN = { state: 'kept', posting_since: null } as const;

async function post(runtime: Runtime, row: NoticeRow, target: SlackPlace, { text, blocks }: Payload) {
  const { deps, web } = runtime;
  // Committed before the call: whatever happens after it, the message is looked for before it is posted again.
  await stepNotice(deps.db, row, {
    state: 'posting',
    posting_since: row.posting_since ?? deps.clock.now().toISOString(),
    channel: target.channel,
    ts: null,
  });
  const { answer, isPlain } = await sendOrPlain(runtime, blocks, (sent) =>
    web.chat.postMessage({
      channel: target.channel,
      ...(target.threadTs === null ? {} : { thread_ts: target.threadTs }),
      text,
      blocks: sent,
      unfurl_links: false,
      unfurl_media: false,
      metadata: {
        event_type: EVENT_TYPE,
        event_payload: { key: travellingKey(row.workspace, row.key) },
      },
    }),
  );
  if (!answer.ts) throw new Error('Slack posted a message without saying where');
  return { channel: answer.channel ?? target.channel, ts: answer.ts, isPlain };
}

/** False when the message is not there any more, so that it has to be posted anew. */
function update(runtime: Runtime, channel: string, ts: string, { text, blocks }: Payload): Promise<boolean> {
  return isDoneOn(() =>
    sendOrPlain(runtime, blocks, (sent) => runtime.web.chat.update({ channel, ts, text, blocks: sent })),
  );
}

/** A message whose blocks Slack refuses is shown as its text, which stands alone; the refusal is logged. */
async function sendOrPlain<T>(
  { deps }: Runtime,
  blocks: KnownBlock[],
  send: (blocks: KnownBlock[]) => Promise<T>,
): Promise<{ readonly answer: T; readonly isPlain: boolean }> {
  try {
    return { answer: await send(blocks), isPlain: false };
  } catch (error) {
    const failure = readFailure(error);
    if (failure.kind !== 'refused' || !/^(invalid_blocks|msg_blocks_too_long)/.test(failure.error))
      throw error;
    deps.log.error({ err: error }, 'Slack refused the blocks of a message; it is shown as text');
    return { answer: await send([]), isPlain: true };
  }
}

/** The message of a post whose outcome is not known; should Slack have it twice, the later ones go. */
async function findAgain(runtime: Runtime, row: NoticeRow, target: SlackPlace): Promise<string | null> {
  const { web, deps } = runtime;
  const key = travellingKey(row.workspace, row.key);
  const [first, ...more] = await findPosted(
    runtime,
    target,
    row.posting_since,
    ({ metadata }) => metadata?.event_type === EVENT_TYPE && metadata.event_payload['key'] === key,
  );
  for (const { ts } of more) await isDoneOn(() => web.chat.delete({ channel: target.channel, ts }));
  if (!first) return null;
  await stepNotice(deps.db, row, { channel: target.channel, ts: first.ts, state: 'kept' });
  // Replies to it may have been missed.
  runtime.rereadThread(target.channel, first.ts);
  return first.ts;
}

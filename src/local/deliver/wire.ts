/** Messages, files and views as Slack's API and payloads show them. */
import type { JsonObject, View } from '../api-types.js';
import type { Context } from '../context.js';
import { stateValues } from '../forms/fields.js';
import type { Identity } from '../identity.js';
import { objectIn, objectsIn, textIn } from '../json.js';
import { findChannel } from '../state/channels.js';
import { findFile, sharesOf } from '../state/files.js';
import { findMessage, reactionsOn, repliesOf, type StoredMessage } from '../state/messages.js';
import type { StoredView } from '../state/views.js';

type MessageOptions = {
  /** Counts, reactions and the like, which histories show and events do not. */
  readonly full?: boolean;
  readonly metadata?: boolean;
};

export function wireMessage(ctx: Context, message: StoredMessage, options: MessageOptions = {}): JsonObject {
  const gone = message.state === 'tombstone';
  const byBot = message.botId !== null && !gone;
  const user = gone ? 'USLACKBOT' : message.person;
  return {
    type: 'message',
    ...(message.subtype === null ? {} : { subtype: message.subtype }),
    ...(user === null ? {} : { user }),
    ...(byBot ? { bot_id: message.botId, app_id: ctx.identity.appId } : {}),
    text: message.text,
    ts: message.ts,
    team: ctx.identity.teamId,
    ...(message.clientMsgId === null ? {} : { client_msg_id: message.clientMsgId }),
    ...(message.blocks.length === 0 ? {} : { blocks: message.blocks }),
    ...(message.threadTs === null ? {} : { thread_ts: message.threadTs, ...parentOf(ctx, message) }),
    ...(message.editedTs === null ? {} : { edited: { user: message.editedBy, ts: message.editedTs } }),
    ...(message.files.length === 0 ? {} : { files: message.files.flatMap((id) => wireFile(ctx, id) ?? []) }),
    ...(gone ? { hidden: true } : {}),
    ...(options.metadata === true && message.metadata !== null ? { metadata: message.metadata } : {}),
    ...(options.full === true ? counts(ctx, message) : {}),
  };
}

function parentOf(ctx: Context, message: StoredMessage): JsonObject {
  if (message.threadTs === null || message.threadTs === message.ts) return {};
  const parent = findMessage(ctx.db, message.channel, message.threadTs);
  return parent === undefined || parent.person === null ? {} : { parent_user_id: parent.person };
}

function counts(ctx: Context, message: StoredMessage): JsonObject {
  const isReply = message.threadTs !== null && message.threadTs !== message.ts;
  const replies = repliesOf(ctx.db, message.channel, message.ts);
  const reactions = reactionsOn(ctx.db, message.channel, message.ts);
  return {
    ...(isReply || replies.latest === null
      ? {}
      : { thread_ts: message.ts, reply_count: replies.count, latest_reply: replies.latest }),
    ...(reactions.length === 0
      ? {}
      : { reactions: reactions.map((one) => ({ ...one, count: one.users.length })) }),
  };
}

/** A file, with where it has been shared so far. */
export function wireFile(ctx: Context, id: string): JsonObject | undefined {
  const file = findFile(ctx.db, id);
  if (file === undefined) return undefined;
  const places = sharesOf(ctx.db, id);
  const address = `${ctx.url()}/local/files/${file.id}`;
  const shares: Record<string, Record<string, { ts: string }[]>> = {};
  for (const { channel, ts } of places) {
    const kind = findChannel(ctx.db, channel)?.kind === 'channel' ? 'public' : 'private';
    shares[kind] = { ...shares[kind], [channel]: [...(shares[kind]?.[channel] ?? []), { ts }] };
  }
  return {
    id: file.id,
    created: Math.floor(file.createdAt / 1_000),
    timestamp: Math.floor(file.createdAt / 1_000),
    name: file.name,
    title: file.title,
    mimetype: file.mimetype,
    filetype: file.name.split('.').at(-1) ?? '',
    user: file.uploader,
    size: file.size,
    mode: 'hosted',
    is_external: false,
    url_private: address,
    url_private_download: address,
    permalink: address,
    channels: places.map(({ channel }) => channel),
    shares,
  };
}

/** A view, with what its person has typed. */
export function wireView(identity: Identity, view: StoredView) {
  const { definition } = view;
  const blocks = [...objectsIn(definition['blocks'])];
  return {
    id: view.id,
    team_id: identity.teamId,
    type: view.kind,
    title: objectIn(definition['title']) ?? { type: 'plain_text', text: 'View Title', emoji: true },
    blocks,
    private_metadata: textIn(definition['private_metadata']) ?? '',
    callback_id: textIn(definition['callback_id']) ?? '',
    external_id: '',
    submit: objectIn(definition['submit']) ?? null,
    close: objectIn(definition['close']) ?? null,
    clear_on_close: definition['clear_on_close'] === true,
    notify_on_close: definition['notify_on_close'] === true,
    state: { values: stateValues(blocks, view.typed) },
    hash: view.hash,
    root_view_id: view.rootId,
    previous_view_id: view.previousId,
    app_id: identity.appId,
    app_installed_team_id: identity.teamId,
    bot_id: identity.botId,
  } satisfies View;
}

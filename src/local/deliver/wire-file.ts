import type { JsonObject } from '../api-types.js';
import type { Context } from '../context.js';
import { findChannel } from '../state/channels.js';
import { findFile, sharesOf } from '../state/files.js';

/** A file as Slack's API shows it, with where it has been shared so far. */
export function wireFile(ctx: Context, id: string): JsonObject | undefined {
  const file = findFile(ctx.db, id);
  if (file === undefined) return undefined;
  const shares = sharesOf(ctx.db, id);
  const address = `${ctx.url()}/local/files/${file.id}`;
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
    channels: shares.map((share) => share.channel),
    shares: sharesByKind(ctx, shares),
  };
}

function sharesByKind(
  ctx: Context,
  shares: readonly { readonly channel: string; readonly ts: string }[],
): JsonObject {
  const kinds: Record<string, Record<string, { ts: string }[]>> = {};
  for (const { channel, ts } of shares) {
    const kind = findChannel(ctx.db, channel)?.kind === 'channel' ? 'public' : 'private';
    const places = kinds[kind] ?? {};
    kinds[kind] = { ...places, [channel]: [...(places[channel] ?? []), { ts }] };
  }
  return kinds;
}

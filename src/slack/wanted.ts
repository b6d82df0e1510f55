import type { HomeView, KnownBlock } from '@slack/types';
import { z } from 'zod';
import type { Notice } from '../kit/notice.js';
import type { NoticeRow } from '../store/notices.js';

/* A notice read back from where it was stored. Blocks and views are carried, not looked into. */

const isObject = (value: unknown) => typeof value === 'object' && value !== null;
const Block = z.custom<KnownBlock>(isObject);
const Message = z.object({ text: z.string(), blocks: z.array(Block) });
const PlaceSchema = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('channel'), channel: z.string() }),
  z.object({ kind: z.literal('direct'), person: z.string() }),
  z.object({ kind: z.literal('thread'), under: z.string() }),
]);
const Picture = z.object({ drawing: z.unknown(), altText: z.string(), title: z.string() });
const Content = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('text'), text: z.string() }),
  z.object({ kind: z.literal('table sheet'), sheet: z.unknown() }),
]);

const Key = { key: z.string() };
const NoticeSchema = z.discriminatedUnion('kind', [
  z.object({
    ...Key,
    kind: z.literal('message'),
    place: PlaceSchema,
    message: Message.nullable(),
    picture: Picture.exactOptional(),
  }),
  z.object({
    ...Key,
    kind: z.literal('private'),
    channel: z.string(),
    threadTs: z.string().nullable(),
    person: z.string(),
    message: Message,
  }),
  z.object({
    ...Key,
    kind: z.literal('reaction'),
    channel: z.string(),
    ts: z.string(),
    name: z.string().nullable(),
  }),
  z.object({ ...Key, kind: z.literal('home'), person: z.string(), view: z.custom<HomeView>(isObject) }),
  z.object({
    ...Key,
    kind: z.literal('file'),
    place: PlaceSchema,
    file: z.object({ name: z.string(), title: z.string(), comment: z.string(), content: Content }),
  }),
]);

/** @throws when the stored text is not a notice, which only a damaged database can bring about */
export function parseNotice(row: NoticeRow): Notice {
  return NoticeSchema.parse(JSON.parse(row.wanted_json ?? 'null'));
}

/** What has to stay in order: one lane for each place. */
export function laneOf(notice: Notice): string {
  if (notice.kind === 'home') return `home:${notice.person}`;
  if (notice.kind === 'reaction') return `reaction:${notice.channel}:${notice.ts}`;
  if (notice.kind === 'private') return `private:${notice.channel}:${notice.person}`;
  const { place } = notice;
  if (place.kind === 'channel') return `channel:${place.channel}`;
  return place.kind === 'direct' ? `direct:${place.person}` : `thread:${place.under}`;
}

import { createHash } from 'node:crypto';
import type { HomeView, KnownBlock } from '@slack/types';
import { z } from 'zod';
import type { Notice } from '../../kit/notice.js';

import type { NoticeRow, WantedNotice } from '../../store/notices.js';

/* A notice as it is stored until Slack shows it, and read back. Blocks and views are carried, not looked into. */

export type NoticeOf<Kind extends Notice['kind']> = Extract<Notice, { readonly kind: Kind }>;

const isObject = (value: unknown) => typeof value === 'object' && value !== null;
const Message = z.object({ text: z.string(), blocks: z.array(z.custom<KnownBlock>(isObject)) });
const Place = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('channel'), channel: z.string() }),
  z.object({ kind: z.literal('direct'), person: z.string() }),
  z.object({ kind: z.literal('thread'), under: z.string() }),
]);
const Picture = z.object({ drawing: z.unknown(), altText: z.string(), title: z.string() });
const Content = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('text'), text: z.string() }),
  z.object({ kind: z.literal('table sheet'), sheet: z.unknown() }),
]);
const File = z.object({ name: z.string(), title: z.string(), comment: z.string(), content: Content });

const noticeOf = <Kind extends string, Shape extends z.ZodRawShape>(kind: Kind, shape: Shape) =>
  z.object({ key: z.string(), kind: z.literal(kind), ...shape });
const NoticeSchema = z.discriminatedUnion('kind', [
  noticeOf('message', { place: Place, message: Message.nullable(), picture: Picture.exactOptional() }),
  noticeOf('private', {
    channel: z.string(),
    threadTs: z.string().nullable(),
    person: z.string(),
    message: Message,
  }),
  noticeOf('reaction', { channel: z.string(), ts: z.string(), name: z.string().nullable() }),
  noticeOf('home', { person: z.string(), view: z.custom<HomeView>(isObject) }),
  noticeOf('file', { place: Place, file: File }),
]);

/** @throws when the stored text is not a notice, which only a damaged database can bring about */
export function parseNotice(row: NoticeRow): Notice {
  return NoticeSchema.parse(JSON.parse(row.wanted_json ?? 'null'));
}

export function toWanted(workspace: string, subject: string, notice: Notice): WantedNotice {
  const wantedJson = canonicalJson(notice);
  return {
    workspace,
    key: notice.key,
    subject,
    kind: notice.kind,
    lane: laneOf(notice),
    placeJson: canonicalJson('place' in notice ? notice.place : {}),
    wantedJson,
    hash: hashOf(wantedJson),
  };
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

/** JSON with sorted keys, so that equal values have equal text. */
export function canonicalJson(value: unknown): string {
  return JSON.stringify(value, (_, part: unknown) =>
    typeof part === 'object' && part !== null && !Array.isArray(part)
      ? Object.fromEntries(Object.entries(part).sort(([a], [b]) => (a < b ? -1 : 1)))
      : part,
  );
}

export function hashOf(text: string): string {
  return createHash('sha256').update(text).digest('hex');
}

/** A notice's key as it travels in Slack, where anyone in the channel could read it: told apart, not told. */
export function travellingKey(workspace: string, key: string): string {
  return hashOf(`${workspace} ${key}`).slice(0, 32);
}

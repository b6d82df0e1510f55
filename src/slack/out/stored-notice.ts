import { createHash } from 'node:crypto';
import { Notice } from '../../kit/notice.js';
import type { NoticeRow, WantedNotice } from '../../store/notices.js';

export type NoticeOf<Kind extends Notice['kind']> = Extract<Notice, { readonly kind: Kind }>;

/** @throws when the stored text is not a notice, which only a damaged database can bring about */
export function parseNotice(row: NoticeRow): Notice {
  return Notice.parse(JSON.parse(row.wanted_json ?? 'null'));
}

export function toWanted(workspace: string, subject: string, notice: Notice): WantedNotice {
  const wanted_json = canonicalJson(notice);
  return {
    workspace,
    key: notice.key,
    subject,
    kind: notice.kind,
    lane: laneOf(notice),
    place_json: canonicalJson('place' in notice ? notice.place : {}),
    wanted_json,
    wanted_hash: hashOf(wanted_json),
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

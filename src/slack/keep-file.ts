import { z } from 'zod';
import { type NoticeRow, stepNotice } from '../store/notices.js';
import { readFailure } from './call-outcome.js';
import { displayName } from './display-names.js';
import { findPosted } from './find-posted.js';
import type { KeeperTools, Kept, NoticeOf } from './keeper-types.js';
import { type Target, targetOf } from './slack-target.js';
import { uploadBytes } from './upload.js';

const Uploaded = z.object({ fileId: z.string() });

/**
 * Shares a file once. Its bytes are uploaded first and its id kept; the share comes last, and after an
 * unclear outcome the place is searched for that file before it is shared again. Slack's alternative text
 * argument is known to leave files unshared, so the title and the comment say what it is.
 */
export async function keepFile(tools: KeeperTools, row: NoticeRow, notice: NoticeOf<'file'>): Promise<Kept> {
  const { house } = tools;
  const target = await targetOf(house, row.workspace, notice.place);
  if (target === null) return { kind: 'blocked' };
  const kept = row.shown_json === null ? null : Uploaded.parse(JSON.parse(row.shown_json)).fileId;
  if (kept !== null && row.state === 'posting' && (await isShared(tools, row, target, kept)))
    return shared(row, target);
  const fileId = kept ?? (await uploadBytes(house, notice.file.name, await bytesOf(tools, notice)));
  await stepNotice(house.deps.db, row, {
    state: 'posting',
    posting_since: row.posting_since ?? house.deps.clock.now().toISOString(),
    shown_json: JSON.stringify({ fileId }),
  });
  await share(tools, notice, target, fileId);
  return shared(row, target);
}

async function share(
  tools: KeeperTools,
  notice: NoticeOf<'file'>,
  target: Target,
  fileId: string,
): Promise<void> {
  const common = {
    files: [{ id: fileId, title: notice.file.title }] as [{ id: string; title: string }],
    channel_id: target.channel,
    initial_comment: notice.file.comment,
  };
  try {
    await tools.house.web.files.completeUploadExternal(
      target.threadTs === null ? common : { ...common, thread_ts: target.threadTs },
    );
  } catch (error) {
    const failure = readFailure(error);
    if (failure.kind !== 'refused' || !/^file_already|^already_/.test(failure.error)) throw error;
  }
}

async function isShared(
  tools: KeeperTools,
  row: NoticeRow,
  target: Target,
  fileId: string,
): Promise<boolean> {
  const since = new Date(row.posting_since ?? 0);
  const found = await findPosted(
    tools.house,
    target,
    since,
    ({ files }) => files?.some((file) => file.id === fileId) === true,
  );
  return found.length > 0;
}

function bytesOf(tools: KeeperTools, { file }: NoticeOf<'file'>): Promise<Buffer> {
  return file.content.kind === 'text'
    ? Promise.resolve(Buffer.from(file.content.text, 'utf8'))
    : tools.drawSheet(file.content.sheet, (person) => displayName(tools.house, person));
}

function shared(row: NoticeRow, target: Target): Kept {
  const step = { shown_hash: row.wanted_hash, state: 'kept', posting_since: null, channel: target.channel };
  return { kind: 'shown', step };
}

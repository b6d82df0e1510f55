import { z } from 'zod';
import { type NoticeRow, type NoticeStep, stepNotice } from '../../store/notices.js';
import type { Runtime, SlackPlace } from '../runtime.js';
import { readFailure } from './call-failure.js';
import { findPlace, findPosted } from './slack-places.js';
import type { NoticeOf } from './stored-notice.js';
import { uploadBytes } from './uploads.js';

const Uploaded = z.object({ fileId: z.string() });

/**
 * Shares a file once. Its bytes are uploaded first and its id kept; the share comes last, and after an
 * unclear outcome the place is searched for that file before it is shared again. Slack's alternative text
 * argument is known to leave files unshared, so the title and the comment say what it is. Null while the notice
 * does not stand under which it belongs.
 */
export async function showFile(
  runtime: Runtime,
  row: NoticeRow,
  notice: NoticeOf<'file'>,
): Promise<NoticeStep | null> {
  const { db, clock } = runtime.deps;
  const target = await findPlace(runtime, row.workspace, notice.place);
  if (target === null) return null;
  const shown = { state: 'kept', posting_since: null, channel: target.channel };
  const uploaded = row.shown_json === null ? null : Uploaded.parse(JSON.parse(row.shown_json)).fileId;
  if (uploaded !== null && row.state === 'posting' && (await isShared(runtime, row, target, uploaded)))
    return shown;
  const fileId = uploaded ?? (await uploadBytes(runtime, notice.file.name, await bytesOf(runtime, notice)));
  await stepNotice(db, row, {
    state: 'posting',
    posting_since: row.posting_since ?? clock.now().toISOString(),
    shown_json: JSON.stringify({ fileId }),
  });
  await share(runtime, notice, target, fileId);
  return shown;
}

async function share(
  { web }: Runtime,
  { file }: NoticeOf<'file'>,
  { channel, threadTs }: SlackPlace,
  fileId: string,
): Promise<void> {
  const files: [{ id: string; title: string }] = [{ id: fileId, title: file.title }];
  const common = { files, channel_id: channel, initial_comment: file.comment };
  try {
    await web.files.completeUploadExternal(threadTs === null ? common : { ...common, thread_ts: threadTs });
  } catch (error) {
    const failure = readFailure(error);
    if (failure.kind !== 'refused' || !/^file_already|^already_/.test(failure.error)) throw error;
  }
}

async function isShared(
  runtime: Runtime,
  row: NoticeRow,
  target: SlackPlace,
  fileId: string,
): Promise<boolean> {
  const has = (files: readonly { readonly id: string }[] = []) => files.some(({ id }) => id === fileId);
  return (await findPosted(runtime, target, row.posting_since, ({ files }) => has(files))).length > 0;
}

async function bytesOf(runtime: Runtime, { file: { content } }: NoticeOf<'file'>): Promise<Buffer> {
  return content.kind === 'text'
    ? Buffer.from(content.text, 'utf8')
    : runtime.drawSheet(content.sheet, (person) => displayName(runtime, person));
}

/** Somebody whom Slack does not name: gone, or the app may not read names. */
const UNNAMED = 'a guest';

/** How a person is called in Slack, for paper that cannot show a mention. */
async function displayName({ web }: Runtime, person: string): Promise<string> {
  try {
    const { user } = await web.users.info({ user: person });
    return user?.profile?.display_name || user?.real_name || user?.name || UNNAMED;
  } catch (error) {
    if (readFailure(error).kind === 'refused') return UNNAMED;
    throw error;
  }
}

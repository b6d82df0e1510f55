import { setTimeout as sleep } from 'node:timers/promises';
import { z } from 'zod';
import type { Context } from '../context.js';
import { wireFile } from '../deliver/wire.js';
import { acceptedBlocks, postAsBot } from '../messages.js';
import { newId, newSecret } from '../random.js';
import { SlackError } from '../refusals.js';
import { mimetypeOf } from '../server/content-types.js';
import { addFile, addShare, findFile, markShared } from '../state/files.js';
import { FormNumber, type Method, method, OptionalText, type Reply } from './method.js';
import { joinedChannel, threadParent } from './places.js';

const LARGEST = 20_000_000;

const GetUrl = z.looseObject({
  filename: z.string().min(1),
  length: FormNumber.int(),
  alt_txt: OptionalText,
  alt_text: OptionalText,
});

function getUploadUrl(ctx: Context, args: z.output<typeof GetUrl>): Reply {
  if (args.length <= 0) throw new SlackError('missing_argument');
  if (args.length > LARGEST) throw new SlackError('file_upload_size_restricted');
  if ((args.alt_txt ?? args.alt_text ?? '').length > 1_000) throw new SlackError('alt_txt_too_large');
  const id = newId('F');
  const key = newSecret();
  addFile(
    ctx.db,
    {
      id,
      name: args.filename,
      title: args.filename,
      mimetype: mimetypeOf(args.filename),
      size: args.length,
      uploader: ctx.identity.botUserId,
      state: 'promised',
      createdAt: ctx.clock.now().getTime(),
    },
    key,
  );
  return { upload_url: `${ctx.url()}/upload/${key}`, file_id: id };
}

const Complete = z.looseObject({
  files: z.array(z.looseObject({ id: z.string().min(1), title: z.string().optional() })).min(1),
  channel_id: OptionalText,
  channels: OptionalText,
  thread_ts: OptionalText,
  initial_comment: OptionalText,
  blocks: z.unknown().optional(),
});

function complete(ctx: Context, args: z.output<typeof Complete>): Reply {
  const ids = args.files.map((file) => file.id);
  if (ids.some((id) => findFile(ctx.db, id)?.state !== 'uploaded')) throw new SlackError('file_not_found');
  const places = [args.channel_id, ...(args.channels ?? '').split(',')].filter(
    (id) => id !== undefined && id !== '',
  );
  if (places.length > 100) throw new SlackError('invalid_arguments');
  const channels = places.map((id) => {
    if (!/^[CDG]/.test(id ?? '')) throw new SlackError('invalid_channel');
    return joinedChannel(ctx, id ?? '');
  });
  if (channels.some((channel) => channel.isArchived)) throw new SlackError('posting_to_channel_denied');
  const threads = channels.map((channel) =>
    args.thread_ts === undefined ? null : threadParent(ctx, channel.id, args.thread_ts),
  );
  const text = args.initial_comment ?? '';
  const blocks =
    args.initial_comment === undefined && args.blocks !== undefined
      ? acceptedBlocks(ctx, { blocks: args.blocks }, 'post')
      : [];
  ctx.db.transaction(() => {
    for (const file of args.files)
      markShared(ctx.db, file.id, file.title ?? findFile(ctx.db, file.id)?.name ?? '');
  })();
  void ctx.activity.during(async () => {
    await sleep(ctx.shareDelayMs);
    if (!ctx.db.open) return;
    channels.forEach((channel, index) => {
      const threadTs = threads[index] ?? null;
      const message = postAsBot(ctx, channel, { text, blocks, threadTs, files: ids });
      for (const id of ids) addShare(ctx.db, id, channel.id, message.ts);
    });
  });
  return { files: ids.map((id) => ({ id, title: findFile(ctx.db, id)?.title ?? '' })) };
}

const Info = z.looseObject({ file: z.string().min(1) });

/** Uploads in three steps: ask for a place, put the bytes there, share. */
export const fileMethods: readonly Method[] = [
  method('files.getUploadURLExternal', ['files:write'], GetUrl, getUploadUrl),
  method('files.completeUploadExternal', ['files:write'], Complete, complete),
  method('files.info', ['files:read'], Info, (ctx, args) => {
    const file = findFile(ctx.db, args.file)?.state === 'promised' ? undefined : wireFile(ctx, args.file);
    if (file === undefined) throw new SlackError('file_not_found');
    return { file };
  }),
];

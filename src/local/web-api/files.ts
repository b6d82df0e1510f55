import { setTimeout as sleep } from 'node:timers/promises';
import { z } from 'zod';
import type { Context } from '../context.js';
import { wireFile } from '../deliver/wire.js';
import { postAsBot } from '../messages.js';
import { newId, newSecret } from '../random.js';
import { SlackError } from '../refusals.js';
import { mimetypeOf } from '../server/content-types.js';
import { addFile, addShare, findFile, markShared } from '../state/files.js';
import { FormNumber, type Method, method, OptionalText, type Reply } from './method.js';
import { joinedChannel, threadParent } from './places.js';

const LARGEST = 20_000_000;

const GetUrl = z.looseObject({ filename: z.string().min(1), length: FormNumber.int() });

function getUploadUrl(ctx: Context, args: z.output<typeof GetUrl>): Reply {
  if (args.length <= 0) throw new SlackError('missing_argument');
  if (args.length > LARGEST) throw new SlackError('file_upload_size_restricted');
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
  thread_ts: OptionalText,
  initial_comment: OptionalText,
});

function complete(ctx: Context, args: z.output<typeof Complete>): Reply {
  const ids = args.files.map((file) => file.id);
  if (ids.some((id) => findFile(ctx.db, id)?.state !== 'uploaded')) throw new SlackError('file_not_found');
  const share = args.channel_id === undefined ? () => undefined : sharing(ctx, args.channel_id, args, ids);
  ctx.db.transaction(() => {
    for (const file of args.files)
      markShared(ctx.db, file.id, file.title ?? findFile(ctx.db, file.id)?.name ?? '');
  })();
  void ctx.activity.during(async () => {
    await sleep(ctx.shareDelayMs);
    if (ctx.db.open) share();
  });
  return { files: ids.map((id) => ({ id, title: findFile(ctx.db, id)?.title ?? '' })) };
}

/** Refuses a place that cannot be shared in; else answers how to share there, a little later. */
function sharing(
  ctx: Context,
  place: string,
  args: z.output<typeof Complete>,
  files: readonly string[],
): () => void {
  if (!/^[CDG]/.test(place)) throw new SlackError('invalid_channel');
  const channel = joinedChannel(ctx, place);
  if (channel.isArchived) throw new SlackError('posting_to_channel_denied');
  const threadTs = args.thread_ts === undefined ? null : threadParent(ctx, channel.id, args.thread_ts);
  return () => {
    const text = args.initial_comment ?? '';
    const message = postAsBot(ctx, channel, { text, threadTs, files: [...files] });
    for (const id of files) addShare(ctx.db, id, channel.id, message.ts);
  };
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

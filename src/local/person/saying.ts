import { randomUUID } from 'node:crypto';
import type { z } from 'zod';
import type { AttachedFile, EditRequest, MessageRequest, ReactRequest, SayRequest } from '../api-types.js';
import type { Context } from '../context.js';
import { changeMessage, changeReaction, postMessage, removeMessage } from '../messages.js';
import { newId, newSecret } from '../random.js';
import { RefusedAction } from '../refusals.js';
import { mimetypeOf } from '../server/content-types.js';
import { addFile, addShare, markShared, storeBytes } from '../state/files.js';
import { markRead } from '../state/messages.js';
import { actingPerson, ownMessage, seenMessage, writableChannel } from './acting.js';
import { escapedText } from './escaped-text.js';

/** A person writes a message, in a channel, a thread or direct messages. */
export function say(ctx: Context, request: SayRequest): { readonly ts: string } {
  const person = actingPerson(ctx, request.as);
  const channel = writableChannel(ctx, request.channel, person.id);
  const attached = request.files ?? [];
  if (request.text.trim() === '' && attached.length === 0) {
    throw new RefusedAction('no_text', 'Write something, or attach a file.');
  }
  const threadTs = request.thread === undefined ? null : parentTs(ctx, channel.id, request.thread, person.id);
  const broadcast = threadTs !== null && request.broadcast === true;
  const files = ctx.db.transaction(() => attached.map((file) => storeFile(ctx, person.id, file)))();
  const { ts } = postMessage(
    ctx,
    channel,
    {
      person: person.id,
      text: escapedText(ctx, request.text, 'message'),
      threadTs,
      broadcast,
      files,
      subtype: files.length > 0 ? 'file_share' : broadcast ? 'thread_broadcast' : null,
      clientMsgId: files.length > 0 ? null : randomUUID(),
    },
    (message) => {
      for (const file of files) addShare(ctx.db, file, channel.id, message.ts);
      markRead(ctx.db, person.id, channel.id, message.ts);
    },
  );
  return { ts };
}

function parentTs(ctx: Context, channel: string, ts: string, reader: string): string {
  const parent = seenMessage(ctx, channel, ts, reader);
  if (parent.threadTs !== null && parent.threadTs !== parent.ts) {
    throw new RefusedAction('not_a_parent', `A thread is named by its first message, ${parent.threadTs}.`);
  }
  if (parent.ephemeralTo !== null)
    throw new RefusedAction('not_a_parent', 'A private message has no thread.');
  return parent.ts;
}

function storeFile(ctx: Context, uploader: string, file: z.infer<typeof AttachedFile>): string {
  const id = newId('F');
  const title = file.title ?? file.name;
  const bytes = Buffer.from(file.base64, 'base64');
  const createdAt = ctx.clock.now().getTime();
  const mimetype = mimetypeOf(file.name);
  addFile(
    ctx.db,
    { id, name: file.name, title, mimetype, size: bytes.length, uploader, state: 'promised', createdAt },
    newSecret(),
  );
  storeBytes(ctx.db, id, bytes);
  markShared(ctx.db, id, title);
  return id;
}

/** A person corrects their message. */
export function edit(ctx: Context, request: z.infer<typeof EditRequest>): object {
  const person = actingPerson(ctx, request.as);
  const channel = writableChannel(ctx, request.channel, person.id);
  const before = ownMessage(ctx, channel.id, request.ts, person.id);
  const text = escapedText(ctx, request.text, 'message');
  // Saving the same words again is no edit.
  if (text === before.text) return {};
  changeMessage(ctx, channel, before, { ...before, text, editedTs: ctx.newTs(), editedBy: person.id });
  return {};
}

/** A person takes their message back. */
export function erase(ctx: Context, request: z.infer<typeof MessageRequest>): object {
  const person = actingPerson(ctx, request.as);
  const channel = writableChannel(ctx, request.channel, person.id);
  removeMessage(ctx, channel, ownMessage(ctx, channel.id, request.ts, person.id));
  return {};
}

/** A person adds or takes away a reaction. */
export function react(ctx: Context, request: z.infer<typeof ReactRequest>): object {
  const person = actingPerson(ctx, request.as);
  const channel = writableChannel(ctx, request.channel, person.id);
  const message = seenMessage(ctx, channel.id, request.ts, person.id);
  const kind = request.remove === true ? 'removed' : 'added';
  changeReaction(ctx, message, kind, request.name, person.id);
  return {};
}

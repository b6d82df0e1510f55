import type { HomeView, KnownBlock } from '@slack/types';
import { z } from 'zod';

/* What should stand in Slack, as it is stored until Slack shows it. Blocks and views are carried, not looked into. */

const isObject = (value: unknown) => typeof value === 'object' && value !== null;
/** One message as it is shown: `text` stands alone (notifications and screen readers get nothing else). */
const Message = z.object({ text: z.string(), blocks: z.array(z.custom<KnownBlock>(isObject)).readonly() });
export type Message = z.output<typeof Message>;

/** Where a notice stands: a channel, a person's direct messages, or the thread under another notice. */
const Place = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('channel'), channel: z.string() }),
  z.object({ kind: z.literal('direct'), person: z.string() }),
  z.object({ kind: z.literal('thread'), under: z.string() }),
]);
export type Place = z.output<typeof Place>;

/** A picture drawn by the keeper and put as the last block of the message; drawn again only when `drawing` changes. */
const Picture = z.object({ drawing: z.unknown(), altText: z.string(), title: z.string() });
export type PictureSpec = z.output<typeof Picture>;

const Content = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('text'), text: z.string() }),
  z.object({ kind: z.literal('table sheet'), sheet: z.unknown() }),
]);
/** A file to share: its name, title and what it is made of (drawn or written by the keeper when it is due). */
const File = z.object({ name: z.string(), title: z.string(), comment: z.string(), content: Content });

const noticeOf = <Kind extends string, Shape extends z.ZodRawShape>(kind: Kind, shape: Shape) =>
  z.object({ key: z.string(), kind: z.literal(kind), ...shape });

/**
 * What the bot wants to be true in Slack. The key is the notice's identity for ever: one key is shown once.
 *
 * - `message`: kept equal to `message` by updating it; `null` means it should no longer stand (deleted).
 * - `private`: shown once to one person in a channel or thread (ephemeral), never updated.
 * - `reaction`: the bot's one reaction on a message; null removes it.
 * - `home`: a person's home tab.
 * - `file`: a file shared once in a place.
 */
export const Notice = z.discriminatedUnion('kind', [
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
export type Notice = z.output<typeof Notice>;

/** A message to one person alone, kept as it is given; null when it should no longer stand. */
export function messageTo(person: string, key: string, message: z.output<typeof Message> | null): Notice {
  return { kind: 'message', key, place: { kind: 'direct', person }, message };
}

import type { HomeView } from '@slack/types';
import type { Message } from './message.js';

/** Where a notice stands: a channel, a person's direct messages, or the thread under another notice. */
export type Place =
  | { readonly kind: 'channel'; readonly channel: string }
  | { readonly kind: 'direct'; readonly person: string }
  | { readonly kind: 'thread'; readonly under: string };

/**
 * What the bot wants to be true in Slack. The key is the notice's identity for ever: one key is shown once.
 *
 * - `message`: kept equal to `message` by updating it; `null` means it should no longer stand (deleted).
 * - `private`: shown once to one person in a channel or thread (ephemeral), never updated.
 * - `reaction`: the bot's one reaction on a message; null removes it.
 * - `home`: a person's home tab.
 * - `file`: a file shared once in a place.
 */
export type Notice =
  | {
      readonly kind: 'message';
      readonly key: string;
      readonly place: Place;
      readonly message: Message | null;
      readonly picture?: PictureSpec;
    }
  | {
      readonly kind: 'private';
      readonly key: string;
      readonly channel: string;
      readonly threadTs: string | null;
      readonly person: string;
      readonly message: Message;
    }
  | {
      readonly kind: 'reaction';
      readonly key: string;
      readonly channel: string;
      readonly ts: string;
      readonly name: string | null;
    }
  | { readonly kind: 'home'; readonly key: string; readonly person: string; readonly view: HomeView }
  | { readonly kind: 'file'; readonly key: string; readonly place: Place; readonly file: FileSpec };

/** A picture drawn by the keeper and put as the last block of the message; drawn again only when `drawing` changes. */
export type PictureSpec = { readonly drawing: unknown; readonly altText: string; readonly title: string };

/** A file to share: its name, title and what it is made of (drawn or written by the keeper when it is due). */
type FileSpec = {
  readonly name: string;
  readonly title: string;
  readonly comment: string;
  readonly content: FileContent;
};
type FileContent =
  | { readonly kind: 'text'; readonly text: string }
  | { readonly kind: 'table sheet'; readonly sheet: unknown };

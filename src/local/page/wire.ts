import type { KnownBlock, PlainTextElement } from '@slack/types';
import type { Message, OpenViews, View } from '../api-types.js';

export type { Channel, Person, Picked, WorkspaceState } from '../api-types.js';

// The server has refused every block Slack would refuse, so the page may read them as what they claim to be.

/** A message as the page draws it. */
export type PageMessage = Omit<Message, 'blocks'> & { readonly blocks: readonly KnownBlock[] };

/** A form or a home tab as the page draws it. */
export type PageView = Pick<View, 'id' | 'type' | 'callback_id' | 'state'> & {
  readonly blocks: readonly KnownBlock[];
  readonly title?: PlainTextElement;
  readonly submit?: PlainTextElement | null;
  readonly close?: PlainTextElement | null;
};

export type PageViews = Omit<OpenViews, 'stack'> & { readonly stack: readonly PageView[] };

/** Where an element stands: a message in a channel, or a form or home tab. */
export type Place =
  | { readonly kind: 'message'; readonly channel: string; readonly ts: string }
  | { readonly kind: 'view'; readonly id: string };

/** One option of a select, as drawn. */
export interface Offer {
  readonly value: string;
  readonly label: string;
  readonly description?: string | undefined;
}

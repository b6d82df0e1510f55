import type { Who } from './who.js';

/** `/spoon words…`, or `@Tallyspoon words…` with the thread it was written in. `words` has entities decoded. */
export type Typed = {
  readonly who: Who;
  readonly channel: string;
  readonly threadTs: string | null;
  readonly words: string;
  readonly by: 'slash' | 'mention';
};

/** A button or select used in a message, a form or the home tab. */
export type Tap = {
  readonly who: Who;
  readonly action: string;
  /** The button's value, or the chosen option's value. */
  readonly value: string;
  readonly selected: readonly string[];
  readonly channel: string | null;
  readonly messageTs: string | null;
  readonly threadTs: string | null;
  readonly form: FormState | null;
};

/** A form as it was submitted (or as it stands when something in it is tapped). */
export type FormState = {
  readonly id: string;
  readonly callback: string;
  readonly privateMetadata: string;
  /** Block id → the input's value: text, the chosen value or id, several of them, or null when empty. */
  readonly values: ReadonlyMap<string, string | readonly string[] | null>;
};

export type Submission = { readonly who: Who; readonly form: FormState };

/** Words that somebody wrote in Slack, with entities decoded. */
type Written = {
  readonly channel: string;
  /** Slack's id of the message, the instant of writing in seconds. */
  readonly ts: string;
  readonly threadTs: string | null;
  readonly person: string;
  readonly text: string;
  /** The text without the mention of the bot at its start or end. */
  readonly words: string;
};

/** What a stored Slack event tells; kinds of event that the bot has no use for are none of these. */
export type Received = { readonly workspace: string } & (
  | ({
      readonly kind: 'message' | 'message_changed';
      readonly editedTs: string | null;
      /** Written to the bot alone. */
      readonly isDirect: boolean;
    } & Written)
  | {
      readonly kind: 'message_deleted';
      readonly channel: string;
      readonly ts: string;
      readonly threadTs: string | null;
    }
  | ({ readonly kind: 'app_mention' } & Written)
  | { readonly kind: 'app_home_opened'; readonly person: string }
  /** The bot itself came into a channel. */
  | { readonly kind: 'member_joined_channel'; readonly channel: string }
);

/** A message that may be a note, or was one until it was deleted. */
export type ReceivedMessage = Extract<Received, { readonly kind: `message${string}` }>;

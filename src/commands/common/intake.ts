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

/** A stored Slack event, as the worker hands it over. */
export type Received = {
  readonly workspace: string;
  readonly kind: string;
  readonly body: unknown;
  readonly receivedAt: Date;
};

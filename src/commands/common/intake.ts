import { z } from 'zod';
import { mrkdwn, plain, withoutUnseen } from '../../kit/escape.js';
import { UserError } from '../../runtime/errors.js';

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

/** Who speaks: `workspace` is Slack's team id, `person` a user id. Everything stored is keyed by the workspace. */
export type Who = { readonly workspace: string; readonly person: string };

/** What was written in one input, trimmed and without control characters; '' when left empty. */
export function written(form: FormState, name: string): string {
  const value = form.values.get(name);
  return typeof value === 'string' ? withoutUnseen(value).trim() : '';
}

/** What was chosen in an input that takes several. */
export function chosen(form: FormState, name: string): readonly string[] {
  const value = form.values.get(name);
  return value === null || value === undefined ? [] : typeof value === 'string' ? [value] : value;
}

/**
 * Reads a button's value or a form's private_metadata. Old messages stay tappable for years and clients can
 * be forged, so whatever does not fit is refused kindly.
 */
export function readValue<T extends z.ZodType>(schema: T, json: string): z.output<T> {
  const parsed = schema.safeParse(parseJson(json));
  if (parsed.success) return parsed.data;
  throw new UserError('That button or form is from an older message.', 'Type `/spoon` to see what is next.');
}

function parseJson(json: string): unknown {
  try {
    return JSON.parse(json);
  } catch {
    return null;
  }
}

/** Splits words on spaces, keeping "quoted names" whole; curly quotes count as quotes. */
export function splitWords(words: string): readonly string[] {
  const straight = words.replace(/[\u201c\u201d\u201e\u00ab\u00bb]/g, '"').replace(/\u00a0/g, ' ');
  return [...straight.matchAll(/"([^"]*)"|(\S+)/g)].map((match) => match[1] ?? match[2] ?? '');
}

/** A name that somebody gives to a coffee or a blend, and what to say when it cannot have it. */
type GivenName = {
  readonly name: string;
  /** Its id, when it is there already. */
  readonly own: number | null;
  readonly thing: 'coffee' | 'blend';
  readonly like: string | null;
  readonly instead: string;
};

/** @throws {UserError} when the name is empty, too long, or another one in use has it */
export function requireFreeName(
  { name, own, thing, like, instead }: GivenName,
  inUse: readonly { readonly id: number; readonly name: string }[],
): void {
  // A name of signs that nobody can see is none.
  if (plain(name) === '' || name.length > 80) {
    throw new UserError('A name has 1 to 80 characters.', like, 'name');
  }
  const same = inUse.find(({ id, name: known }) => id !== own && known.toLowerCase() === name.toLowerCase());
  if (!same) return;
  const sentence = `There is a ${thing} called ${mrkdwn(same.name)} already.`;
  throw new UserError(sentence, instead, 'name');
}

/** Which part of a long list is shown, in button values: it begins with this one. */
export const Page = z.object({ from: z.number().int().nonnegative() });

/** Ids in button values. */
export const Id = z.number().int().positive();

/** What buttons about one table carry. */
export const OfTasting = z.object({ tasting: Id });

/** The table that a button is about. */
export function tastingOf(tap: Pick<Tap, 'value'>): number {
  return readValue(OfTasting, tap.value).tasting;
}

/** The first word in small letters, without the punctuation a phone may add. */
export function firstWord(words: string): string {
  return (words.trim().split(/\s+/)[0] ?? '').toLowerCase().replace(/[.,:;!?]+$/, '');
}

/** What follows the first word. */
export function afterFirstWord(words: string): string {
  return words.trim().replace(/^\S+\s*/, '');
}

import type { ModalView } from '@slack/types';
import type { Action } from '../../domain/record/permission.js';
import type { Message, Notice } from '../../kit/notice.js';
import type { Clock } from '../../runtime/clock.js';
import type { Log } from '../../runtime/log.js';
import type { Db } from '../../store/db.js';
import type { Reminder } from '../../store/reminders.js';
import type { Received, Submission, Tap, Typed } from './intake.js';

/** A reminder whose time has come. */
export type DueReminder = Omit<Reminder, 'dueAt'>;

/**
 * The bot as the Slack layer sees it: what came in goes to one of these, and the answer says what to show.
 * Refusals are thrown as UserError and shown in one place.
 */
export type Bot = {
  /** A typed command, slash or mention. */
  typed(deps: Deps, typed: Typed): Promise<Answer>;
  tapped(deps: Deps, tap: Tap): Promise<Answer>;
  submitted(deps: Deps, submission: Submission): Promise<SubmitAnswer>;
  /** Does this event concern one of the bot's own tables? Only such events are ever stored. */
  concerns(deps: Deps, received: Received): Promise<boolean>;
  /**
   * Handles a stored event in the transaction that `deps.db` is; words said to the bot are answered like a
   * command. Throws to be tried again.
   */
  received(deps: Deps, received: Received): Promise<Answer | null>;
  /** A reminder is due: runs in the transaction that marks it as fired. */
  due(deps: Deps, reminder: DueReminder): Promise<void>;
  /** Everything that should stand in Slack about one subject ("tasting:4", "ask:7", "person:U1"), from state alone. */
  notices(deps: Deps, workspace: string, subject: string): Promise<readonly Notice[]>;
};

/** What a command may touch, and nothing else. */
export type Deps = {
  /** The database, or the transaction that the caller is in. */
  readonly db: Db;
  readonly clock: Clock;
  readonly log: Log;
  /** A new seed for codes and orders, 32 bits; the only source of randomness. */
  readonly newSeed: () => number;
};

/** What a handler wants the person to see at once; the Slack layer does it. Lasting messages are notices. */
export type Answer = {
  /** Shown to this person alone. */
  readonly message?: Message;
  /** A form to open (needs the trigger of a command or tap). */
  readonly form?: ModalView;
  /** The form in which the tap happened is shown like this from now on. */
  readonly replaceForm?: ModalView;
  /** A form on top of the one in which the tap or submission happened. */
  readonly pushForm?: ModalView;
};

/** The answer to a submitted form: errors keep it open (keyed by block id), otherwise it closes. */
export type SubmitAnswer = Answer & {
  readonly errors?: Readonly<Record<string, string>>;
  readonly closeAll?: boolean;
};

export type TypedHandler = (deps: Deps, typed: Typed) => Promise<Answer>;
type TapHandler = (deps: Deps, tap: Tap) => Promise<Answer>;
type FormHandler = (deps: Deps, submission: Submission) => Promise<SubmitAnswer>;

/** One word after `/spoon`: `typed.words` is what follows it. */
export type Verb = {
  readonly name: string;
  /** One short line for help. */
  readonly does: string;
  readonly example: string;
  readonly run: TypedHandler;
};

/** A button or form, and the action of the permission table that it stands for; its handler asks for it. */
type Door<Handler> = { readonly for: Action; readonly run: Handler };

export type TapDoor = Door<TapHandler>;
export type FormDoor = Door<FormHandler>;

/** What the bot keeps true in Slack about a kind of thing. */
export type Subject = {
  /** Everything that should stand about one of them ("tasting:4"), from state alone. */
  readonly notices: (deps: Deps, workspace: string, subject: string) => Promise<readonly Notice[]>;
  /** A reminder about one of them is due; without this its notices are worked out anew, and nothing else. */
  readonly due?: (deps: Deps, reminder: DueReminder) => Promise<void>;
};

/** Everything that one thing people do brings to the bot; the list of features is the whole wiring. */
export type Feature = {
  readonly verb: Verb | null;
  /** Buttons and menus by action id. */
  readonly taps: Readonly<Record<string, TapDoor>>;
  /** Forms by callback id. */
  readonly forms: Readonly<Record<string, FormDoor>>;
  /** By the word before the colon of a subject. */
  readonly subjects: Readonly<Record<string, Subject>>;
};

/** What stands behind the colon of a subject: "4" of "tasting:4". */
export function subjectId(subject: string): string {
  return subject.slice(subject.indexOf(':') + 1);
}

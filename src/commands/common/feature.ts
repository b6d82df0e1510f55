import type { Action } from '../../domain/record/permission.js';
import type { Notice } from '../../kit/notice.js';
import type { Answer, SubmitAnswer } from './answer.js';
import type { DueReminder } from './bot.js';
import type { Deps } from './deps.js';
import type { Submission, Tap, Typed } from './intake.js';

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

export type TapDoor = Door<TapHandler> & {
  /** Such a tap says something of a note: it is stored before it is carried out, as notes are. */
  readonly kept?: true;
};

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

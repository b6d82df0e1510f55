import type { Notice } from '../notices/notice.js';
import type { Answer, SubmitAnswer } from './answer.js';
import type { Deps } from './deps.js';
import type { Received, Submission, Tap, Typed } from './intake.js';

/** A reminder whose time has come. */
export type DueReminder = {
  readonly workspace: string;
  readonly key: string;
  readonly subject: string;
  readonly kind: string;
  readonly detail: unknown;
};

/**
 * The bot as the Slack layer sees it: what came in goes to one of these, and the answer says what to show.
 * Refusals are thrown as KindRefusal and shown in one place.
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

import type { Answer, SubmitAnswer } from './answer.js';
import type { Deps } from './deps.js';
import type { Submission, Tap, Typed } from './intake.js';

export type TypedHandler = (deps: Deps, typed: Typed) => Promise<Answer>;
export type TapHandler = (deps: Deps, tap: Tap) => Promise<Answer>;
export type FormHandler = (deps: Deps, submission: Submission) => Promise<SubmitAnswer>;

/** One word after `/spoon`: `typed.words` is what follows it. */
type Verb = {
  readonly name: string;
  /** One short line for help. */
  readonly does: string;
  readonly example: string;
  readonly run: TypedHandler;
};

/** Everything one verb brings: the word, its buttons (by action id) and its forms (by callback id). */
export type Feature = {
  readonly verb: Verb;
  readonly taps: ReadonlyMap<string, TapHandler>;
  readonly forms: ReadonlyMap<string, FormHandler>;
};

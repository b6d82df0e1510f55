/**
 * Something a person typed or tapped that cannot be done, with what was understood and what to type or
 * tap instead. Shown as it is, to that person alone; everything else that is thrown is a fault of ours and
 * is shown as an apology with a reference to the log.
 */
export class UserError extends Error {
  override readonly name = 'UserError';
  /** What to type or tap instead; may hold a `/spoon …` example in backticks. */
  readonly instead: string | null;
  /** For a form: which input the sentence belongs to (block id). */
  readonly input: string | null;

  constructor(sentence: string, instead: string | null = null, input: string | null = null) {
    super(sentence);
    this.instead = instead;
    this.input = input;
  }
}

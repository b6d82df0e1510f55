/** Where somebody did something, and what Slack gave us to answer with. */
export type AnswerPlace = {
  readonly person: string;
  readonly channel: string | null;
  readonly threadTs: string | null;
  /** Good for one form within three seconds; null after a mention. */
  readonly trigger: string | null;
  readonly responseUrl: string | null;
  /** The form in which a tap or submission happened. */
  readonly form: { readonly id: string } | null;
  /** What was typed, to offer its form behind a button when there is no trigger. */
  readonly words?: string;
};

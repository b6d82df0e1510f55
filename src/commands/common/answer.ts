import type { ModalView } from '@slack/types';
import type { Message } from '../../kit/message.js';

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

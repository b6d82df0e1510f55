import { randomInt } from 'node:crypto';
import type { SubmitAnswer } from '../../commands/common/bot.js';
import { section } from '../../kit/blocks.js';
import { withoutEntities } from '../../kit/escape.js';
import type { Message } from '../../kit/notice.js';
import { UserError } from '../../runtime/errors.js';
import type { Runtime } from '../runtime.js';

const LETTERS = 'BCDFGHJKLMNPQRSTVWXZ23456789';

/** Something went wrong on our side; the reference is in the log beside the error. */
export type Fault = { readonly reference: string };

/**
 * Runs one of the bot's handlers and lets nothing out: what goes wrong becomes an answer that says so. Nothing but
 * an event may throw into Bolt, or the person's answer would be lost. The loops look at what it changed.
 */
export async function attempt(
  runtime: Runtime,
  where: string,
  work: () => Promise<SubmitAnswer>,
  inForm: (problem: UserError | Fault) => SubmitAnswer | null = () => null,
): Promise<SubmitAnswer> {
  try {
    return await work();
  } catch (error) {
    const problem = problemOf(runtime, where, error);
    return inForm(problem) ?? { message: messageFor(problem) };
  } finally {
    runtime.wake();
  }
}

/** What to tell the person whose doing failed: a refusal as it is, a fault by a short reference to its place in the log. */
export function problemOf({ counters, deps }: Runtime, where: string, error: unknown): UserError | Fault {
  if (error instanceof UserError) return error;
  counters.failed.inc({ where });
  const reference = Array.from({ length: 6 }, () => LETTERS[randomInt(LETTERS.length)]).join('');
  deps.log.error({ err: error, reference, where }, 'something went wrong');
  return { reference };
}

/** The sentence for either: a refusal as it is, a fault as an apology. */
function sentenceFor(problem: UserError | Fault): string {
  if (problem instanceof UserError)
    return problem.instead === null ? problem.message : `${problem.message}\n${problem.instead}`;
  return `Sorry, that went wrong on my side and nothing was changed. Please try again; if it happens again, tell whoever looks after me this reference: ${problem.reference}.`;
}

export function messageFor(problem: UserError | Fault): Message {
  const text = safeMrkdwn(sentenceFor(problem));
  return { text, blocks: [section(text)] };
}

/** Escapes what is not escaped yet, but lets people's and channels' names through. */
function safeMrkdwn(text: string): string {
  return text
    .replace(/&(?!(?:amp|lt|gt);)/g, '&amp;')
    .replace(/<([@#][A-Z0-9]+)>|([<>])/g, (_, name: string | undefined, bare: string) =>
      name === undefined ? (bare === '<' ? '&lt;' : '&gt;') : `<${name}>`,
    )
    .replace(HIDDEN, '')
    .replace(/@(here|channel|everyone)/gi, '@\u2060$1');
}

/** Direction marks, zero-width and control characters, but the joiners that escaping puts in. */
const HIDDEN = /[^\P{Cf}\u2060\u200d]|[^\P{Cc}\n]/gu;

/** For a form's inline error, which is plain text. */
export function plainSentence(problem: UserError | Fault): string {
  return withoutEntities(sentenceFor(problem).replaceAll('`', '').replaceAll('\n', ' ')).replace(HIDDEN, '');
}

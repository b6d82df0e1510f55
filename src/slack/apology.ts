import { randomInt } from 'node:crypto';
import { section } from '../kit/blocks.js';
import type { Message } from '../kit/message.js';
import { KindRefusal } from '../runtime/errors.js';
import type { Log } from '../runtime/log.js';

const LETTERS = 'BCDFGHJKLMNPQRSTVWXZ23456789';

/** Something went wrong on our side; the reference is in the log beside the error. */
export type Fault = { readonly reference: string };

/** Logs an unexpected error under a short reference that a person can read out. */
export function recordFault(error: unknown, log: Log, where: string): Fault {
  const reference = Array.from({ length: 6 }, () => LETTERS[randomInt(LETTERS.length)]).join('');
  log.error({ err: error, reference, where }, 'something went wrong');
  return { reference };
}

/** The sentence for either: a refusal as it is, a fault as an apology. */
function sentenceFor(problem: KindRefusal | Fault): string {
  if (problem instanceof KindRefusal)
    return problem.instead === null ? problem.message : `${problem.message}\n${problem.instead}`;
  return `Sorry, that went wrong on my side and nothing was changed. Please try again; if it happens again, tell whoever looks after me this reference: ${problem.reference}.`;
}

export function messageFor(problem: KindRefusal | Fault): Message {
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
export function plainSentence(problem: KindRefusal | Fault): string {
  return sentenceFor(problem)
    .replaceAll('`', '')
    .replaceAll('\n', ' ')
    .replaceAll('&lt;', '<')
    .replaceAll('&gt;', '>')
    .replaceAll('&amp;', '&')
    .replace(HIDDEN, '');
}

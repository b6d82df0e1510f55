import { counted } from '../../domain/measure/plain-list.js';
import { button, buttons, context, section, sections } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import type { Message } from '../../kit/message.js';

/** What came of one row of an import. */
export type ImportOutcome =
  | { readonly kind: 'taught' | 'known'; readonly words: string; readonly attribute: string }
  | { readonly kind: 'left'; readonly words: string; readonly attribute: string; readonly why: string };

const MOST_SHOWN = 25;

/** How an import went: how many were taught, and which were left and why. */
export function wordImportMessage(outcomes: readonly ImportOutcome[], again: string): Message {
  const count = (kind: ImportOutcome['kind']) => outcomes.filter((outcome) => outcome.kind === kind).length;
  const known = count('known');
  const left = outcomes.flatMap((outcome) => (outcome.kind === 'left' ? [outcome] : []));
  const sentence = [
    `Taught ${counted(count('taught'), 'word')}.`,
    known > 0 ? `${counted(known, 'word')} meant the same already.` : '',
    again,
  ]
    .filter((part) => part !== '')
    .join(' ');
  return {
    text: left.length > 0 ? `${sentence} Left ${left.length}.` : sentence,
    blocks: [
      section(sentence),
      ...(left.length > 0
        ? sections([
            `*Left as they are: ${left.length}*`,
            ...left
              .slice(0, MOST_SHOWN)
              .map((row) => `• “${mrkdwn(row.words)}” = ${mrkdwn(row.attribute)}: ${mrkdwn(row.why)}`),
          ])
        : []),
      ...(left.length > MOST_SHOWN ? [context(`and ${left.length - MOST_SHOWN} more`)] : []),
      ...buttons(button('Words taught here', 'words.list', { from: 0 })),
    ],
  };
}

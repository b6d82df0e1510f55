import { plainList } from '../../domain/measure/plain-list.js';
import { button, buttons, context, section } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import type { Message } from '../../kit/message.js';

/** What some words mean in this house. */
export type WordShown = {
  /** As they are read: small letters, plain quotes. */
  readonly words: string;
  /** Null when they mean nothing yet. */
  readonly meaning: {
    readonly attribute: string;
    readonly family: string;
    readonly subfamily: string | null;
    /** Who taught it here and when; null when it is in everybody's vocabulary. */
    readonly taught: { readonly by: string; readonly day: string } | null;
    /** Other words for the same attribute, those of this house first. */
    readonly others: readonly string[];
  } | null;
};

const MOST_OTHERS = 8;

/** One word and its meaning, with the next likely steps. */
export function wordCardMessage(shown: WordShown, done?: string): Message {
  const { words, meaning } = shown;
  const said = `“${mrkdwn(words)}”`;
  if (meaning === null) {
    const sentence = `I do not know ${said} yet, so it is kept in the note and counted for nothing.`;
    return {
      text: done ?? sentence,
      blocks: [
        section(done ?? sentence),
        ...buttons(
          button('Teach it', 'words.teach', { words }, { style: 'primary' }),
          button('Words taught here', 'words.list', { from: 0 }),
        ),
      ],
    };
  }
  const { attribute, family, subfamily, taught, others } = meaning;
  const place = [family, subfamily].filter((name) => name !== null && name !== attribute).join(' › ');
  const sentence = `${said} means *${mrkdwn(attribute)}*${taught ? ' here' : ''}.`;
  const facts = [
    place === '' ? '' : `Family: ${mrkdwn(place)}`,
    taught ? `Taught by ${person(taught.by)}, ${taught.day}` : 'Part of everybody’s vocabulary',
    others.length > 0 ? `Also said: ${mrkdwn(plainList(others.slice(0, MOST_OTHERS), 'or'))}` : '',
  ];
  return {
    text: `${done ? `${done} ` : ''}${sentence}`,
    blocks: [
      ...(done ? [section(done)] : []),
      section(sentence),
      context(...facts.filter((fact) => fact !== '')),
      ...buttons(
        ...(taught
          ? [
              button('Change its meaning', 'words.teach', { words }),
              button('Forget it', 'words.forget', words, { style: 'danger' }),
            ]
          : []),
        button('Words taught here', 'words.list', { from: 0 }),
      ),
    ],
  };
}

/** Somebody wants a word to mean something else than it does here: shown, never overwritten. */
export function wordConflictMessage(words: string, means: string, wanted: string): Message {
  const sentence = `“${mrkdwn(words)}” means *${mrkdwn(means)}* here. Shall it mean *${mrkdwn(wanted)}* from now on?`;
  return {
    text: sentence,
    blocks: [
      section(sentence),
      ...buttons(
        button('Replace it', 'words.replace', { words, attribute: wanted }, { style: 'primary' }),
        button('Keep it', 'words.open', words),
      ),
    ],
  };
}

function person(by: string): string {
  return /^[UW][A-Z0-9]+$/u.test(by) ? `<@${by}>` : 'somebody';
}

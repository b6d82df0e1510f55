import { button, buttons, section } from '../../kit/blocks.js';
import type { Message } from '../../kit/message.js';

/** What the bot says when it is invited to a channel: what it is for, and what to do first. */
export function helloMessage(setUp: boolean): Message {
  const first = setUp
    ? 'Type `/spoon book` to book a table.'
    : 'First tell me about the house: roast days, roaster, drums.';
  const text = `I run component tastings here: every coffee of a blend alone, beside the blend and other ratios. ${first}`;
  const more = 'I read only the threads of my own tables and keep nothing else that is said here.';
  return {
    text: `${text} ${more}`,
    blocks: [
      section(`${text}\n${more}`),
      ...buttons(
        ...(setUp
          ? [button('Book a tasting', 'book.form#hello', {}, { style: 'primary' })]
          : [button('Set up the house', 'house.first#hello', {}, { style: 'primary' })]),
        button('What I can do', 'help.show#hello', {}),
      ),
    ],
  };
}

import { button, buttons, context, header, sections } from '../../kit/blocks.js';
import type { Message } from '../../kit/message.js';

export type HelpLine = { readonly name: string; readonly does: string; readonly example: string };

/** Every verb with what it is for and an example. */
export function helpMessage(lines: readonly HelpLine[]): Message {
  const said = lines.map((line) => `*${line.name}*  ${line.does}\n\`${line.example}\``);
  return {
    text: `Words I know: ${lines.map((line) => line.name).join(', ')}. Example: ${lines[0]?.example ?? '/spoon book'}`,
    blocks: [
      header('What I can do'),
      ...sections(said),
      context('In a thread, write `@Tallyspoon` instead of `/spoon`. A word alone opens a form.'),
      context('Tasting notes need no command: reply under a cup in your own words.'),
      ...buttons(button('Book a tasting', 'book.form#help', {})),
    ],
  };
}

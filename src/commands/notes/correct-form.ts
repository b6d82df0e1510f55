import type { KnownBlock, ModalView } from '@slack/types';
import { context, section } from '../../kit/blocks.js';
import { mrkdwn, shorten } from '../../kit/escape.js';
import { checkInput, form, selectInput, textInput } from '../../kit/form.js';

export const CORRECT_FORM = 'note.correct';
export const DROP = 'drop it';

export type CorrectFormStart = {
  readonly noteId: number;
  readonly text: string;
  /** Null when the note names its cups. */
  readonly whichCup: {
    readonly cups: readonly { readonly id: number; readonly name: string }[];
    readonly chosen: number | null;
  } | null;
  readonly mentions: readonly {
    readonly name: string;
    readonly words: string;
    readonly cup: string | null;
    readonly attribute: string;
    readonly others: readonly string[];
  }[];
  readonly unplaced: readonly { readonly name: string; readonly words: string }[];
};

/** Drop a mention, say which attribute was meant, or say what unknown words mean. */
export function correctForm(start: CorrectFormStart): ModalView {
  const blocks: KnownBlock[] = [section(`“${mrkdwn(shorten(start.text, 1000))}”`)];
  if (start.whichCup) {
    const cups = start.whichCup.cups.map((cup) => ({ label: `Cup ${cup.name}`, value: String(cup.id) }));
    const { chosen } = start.whichCup;
    blocks.push(
      selectInput('cup', 'Which cup is it about?', cups, {
        optional: true,
        ...(chosen === null ? {} : { initial: String(chosen) }),
      }),
    );
  }
  for (const mention of start.mentions) {
    const choices = [
      { label: mention.attribute, value: mention.attribute, description: 'As I read it' },
      { label: 'Drop it', value: DROP, description: 'I did not mean a taste' },
      ...mention.others.map((attribute) => ({ label: attribute, value: attribute })),
    ];
    const where = mention.cup === null ? '' : ` on ${mention.cup}`;
    blocks.push(
      selectInput(mention.name, `“${shorten(mention.words, 60)}”${where}`, choices, {
        initial: mention.attribute,
      }),
    );
  }
  for (const { name, words } of start.unplaced) {
    blocks.push(
      textInput(name, `What does “${shorten(words, 60)}” mean?`, {
        optional: true,
        limit: 60,
        placeholder: 'cane sugar',
      }),
    );
  }
  if (start.unplaced.length > 0) {
    blocks.push(
      checkInput(
        'teach',
        'For everybody here',
        [{ label: 'Teach these words to the house', value: 'teach' }],
        { optional: true },
      ),
    );
  }
  if (start.mentions.length === 0 && start.unplaced.length === 0 && !start.whichCup) {
    blocks.push(context('I read nothing as a taste here. Edit the note, or write another.'));
  }
  return form(CORRECT_FORM, 'What I understood', 'Correct', blocks, { note: start.noteId });
}

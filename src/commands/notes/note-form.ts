import type { KnownBlock, ModalView } from '@slack/types';
import { cupContents, ratioCups, type TableSetting } from '../../domain/record/table-setting.js';
import { cupName, tastingName } from '../../domain/record/tasting.js';
import { button, buttons, context, divider, section } from '../../kit/blocks.js';
import { mrkdwn, shorten } from '../../kit/escape.js';
import { type Choice, form, selectInput, textInput } from '../../kit/form.js';

export const NOTE_FORM = 'note.form';
const MOST_SHOWN = 12;

/** One of the taster's own notes with what was understood. */
export type OwnNote = {
  readonly id: number;
  readonly text: string;
  readonly understood: string | null;
  readonly needsCup: boolean;
};

export type NoteFormStart = {
  readonly setting: TableSetting;
  readonly hidden: boolean;
  readonly cupId: number | null;
  readonly own: readonly OwnNote[];
  /** Where it is opened; travels with the form, as its submission does not say. */
  readonly channel: string | null;
};

/** One's own notes with what was understood, room for a new one, and the placing. */
export function noteForm({ setting, hidden, cupId, own, channel }: NoteFormStart): ModalView {
  const { tasting, cups } = setting;
  const name = (cup: (typeof cups)[number]): Choice => ({
    label: `Cup ${cupName(cup)}`,
    value: String(cup.id),
    ...(hidden ? {} : { description: shorten(cupContents(cup, setting), 75) }),
  });
  const ratios = ratioCups(cups);
  const placing = hidden ? cups : ratios;
  const blocks: KnownBlock[] = [
    ...ownBlocks(own),
    selectInput('cup', 'Which cup?', cups.map(name), {
      optional: true,
      placeholder: 'Or name it in your words',
      ...(cupId === null ? {} : { initial: String(cupId) }),
    }),
    textInput('text', 'What do you taste?', {
      optional: true,
      lines: true,
      limit: 2000,
      placeholder: 'lemon, black tea, light body, not sour',
    }),
    selectInput(
      'best',
      hidden ? 'Which one do you like best?' : 'Which ratio do you like best?',
      placing.map(name),
      { optional: true },
    ),
    textInput('order', 'Your order, best first', {
      optional: true,
      limit: 200,
      placeholder: placing.slice(0, 3).map(cupName).join(' > '),
    }),
    context(
      'Write before you talk: the table speaks last. You can edit or take back any note. Flavours only: allergies are for the host, now.',
    ),
    ...buttons(button('My data', 'privacy.mine', {})),
  ];
  return form(NOTE_FORM, `Notes · ${tastingName(tasting)}`, 'Keep it', blocks, {
    tasting: tasting.id,
    channel,
  });
}

function ownBlocks(own: readonly OwnNote[]): readonly KnownBlock[] {
  if (own.length === 0) return [];
  const shown = own.slice(-MOST_SHOWN);
  return [
    section('*Your notes so far*'),
    ...shown.map((note) =>
      section(
        `“${mrkdwn(shorten(note.text, 160))}”\n${note.needsCup ? 'Which cup was it? Tap Correct.' : mrkdwn(note.understood ?? 'Nothing read as a taste.')}`,
        button('Correct', `note.correct#${note.id}`, { note: note.id }),
      ),
    ),
    ...(own.length > shown.length ? [context(`And ${own.length - shown.length} earlier ones.`)] : []),
    divider(),
  ];
}

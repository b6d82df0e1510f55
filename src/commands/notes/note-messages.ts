import type { KnownBlock, ModalView } from '@slack/types';
import type { ReadNote } from '../../domain/record/note.js';
import { cupContents, ratioCups, type TableSetting } from '../../domain/record/table-setting.js';
import { type Cup, cupName, tastingName } from '../../domain/record/tasting.js';
import { button, buttons, context, divider, section } from '../../kit/blocks.js';
import { mrkdwn, shorten } from '../../kit/escape.js';
import { type Choice, checkInput, form, selectInput, textInput } from '../../kit/form.js';
import type { Notice } from '../../kit/notice.js';

export const NOTE_FORM = 'note.form';
const MOST_SHOWN = 12;

/** One of the taster's own notes with what was understood. */
export type OwnNote = {
  readonly id: number;
  readonly text: string;
  readonly understood: string | null;
  readonly needsCup: boolean;
};

type NoteFormStart = {
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
      initial: cupId?.toString(),
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

export const CORRECT_FORM = 'note.correct';
export const DROP = 'drop it';

type CorrectFormStart = {
  readonly noteId: number;
  readonly text: string;
  /** Null when the note names its cups. */
  readonly whichCup: { readonly cups: readonly Cup[]; readonly chosen: number | null } | null;
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
    const cups = start.whichCup.cups.map((cup) => ({ label: `Cup ${cupName(cup)}`, value: String(cup.id) }));
    const { chosen } = start.whichCup;
    blocks.push(
      selectInput('cup', 'Which cup is it about?', cups, {
        optional: true,
        initial: chosen?.toString(),
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
    const label = `“${shorten(mention.words, 60)}”${where}`;
    blocks.push(selectInput(mention.name, label, choices, { initial: mention.attribute }));
  }
  for (const { name, words } of start.unplaced) {
    const look = { optional: true, limit: 60, placeholder: 'cane sugar' };
    blocks.push(textInput(name, `What does “${shorten(words, 60)}” mean?`, look));
  }
  if (start.unplaced.length > 0) {
    const choices = [{ label: 'Teach these words to the house', value: 'teach' }];
    blocks.push(checkInput('teach', 'For everybody here', choices, { optional: true }));
  }
  if (start.mentions.length === 0 && start.unplaced.length === 0 && !start.whichCup) {
    blocks.push(context('I read nothing as a taste here. Edit the note, or write another.'));
  }
  return form(CORRECT_FORM, 'What I understood', 'Correct', blocks, { note: start.noteId });
}

/** On a note that was understood whole, and on one with words that have no place yet. */
const UNDERSTOOD = 'spoon';
const PARTLY_UNDERSTOOD = 'grey_question';

/**
 * The bot's one reaction on a note, and the question to its writer alone when no cup was named; only that
 * question needs the table.
 */
export function noteNotices(note: ReadNote, setting: TableSetting | null): readonly Notice[] {
  if (note.source !== 'thread') return [];
  const { id, channel, ts, reading } = note;
  return [
    { kind: 'reaction', key: `reaction:${id}`, channel, ts, name: reactionFor(note) },
    ...(reading.needsCup && setting ? [whichCup(note, setting)] : []),
  ];
}

function reactionFor(note: ReadNote): string | null {
  const { reading } = note;
  if (reading.needsCup) return null;
  const something =
    reading.mentions.length > 0 ||
    reading.order !== null ||
    reading.liking.size > 0 ||
    reading.worst.length > 0;
  if (reading.unplaced.length > 0) return PARTLY_UNDERSTOOD;
  return something ? UNDERSTOOD : null;
}

function whichCup(note: ReadNote, setting: TableSetting): Notice {
  const quote = mrkdwn(shorten(note.text, 200));
  const choices = setting.cups
    .slice(0, 25)
    .map((cup, index) => button(cupName(cup), `note.cup#${index}`, { note: note.id, cup: cup.id }));
  const question = `Which cup was that? “${quote}”`;
  return {
    kind: 'private',
    key: `which-cup:${note.id}`,
    channel: note.channel,
    threadTs: note.threadTs,
    person: note.person,
    message: {
      text: `${question} Tap a cup, or edit your note and name it.`,
      blocks: [section(question), ...buttons(...choices)],
    },
  };
}

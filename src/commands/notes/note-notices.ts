import type { ReadNote } from '../../domain/record/note.js';
import type { TableSetting } from '../../domain/record/table-setting.js';
import { cupName } from '../../domain/record/tasting.js';
import { button, buttons, section } from '../../kit/blocks.js';
import { mrkdwn, shorten } from '../../kit/escape.js';
import type { Notice } from '../../kit/notice.js';

/** On a note that was understood whole, and on one with words that have no place yet. */
const UNDERSTOOD = 'spoon';
const PARTLY_UNDERSTOOD = 'grey_question';

/**
 * The bot's one reaction on a note, and the question to its writer alone when no cup was named; only that
 * question needs the table.
 */
export function noteNotices(note: ReadNote, setting: TableSetting | null): readonly Notice[] {
  if (note.source !== 'thread') return [];
  const notices: Notice[] = [
    {
      kind: 'reaction',
      key: `reaction:${note.id}`,
      channel: note.channel,
      ts: note.ts,
      name: reactionFor(note),
    },
  ];
  if (note.reading.needsCup && setting) notices.push(whichCup(note, setting));
  return notices;
}

/** A note taken back takes its reaction with it. */
export function goneNoteNotices(noteId: number, channel: string, ts: string): readonly Notice[] {
  return [{ kind: 'reaction', key: `reaction:${noteId}`, channel, ts, name: null }];
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

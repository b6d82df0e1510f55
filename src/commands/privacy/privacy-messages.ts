import type { ModalView } from '@slack/types';
import { counted } from '../../domain/measure/plain-list.js';
import { button, buttons, context, section } from '../../kit/blocks.js';
import { form } from '../../kit/form.js';
import type { Notice } from '../../kit/notice.js';

type OwnCounts = { readonly notes: number; readonly tables: number };

/** What is kept of one person, with both choices: have it sent, have it erased. */
export function ownDataForm(counts: OwnCounts): ModalView {
  const { notes, tables } = counts;
  if (notes === 0) return done('I keep no note of yours. There is nothing to send or to erase.');
  const kept = `I keep *${counted(notes, 'note')}* of yours, from ${counted(tables, 'table')}: your words, what I read in them, and your placings. Nothing you wrote elsewhere is kept.`;
  return form('privacy.mine', 'My data', null, [
    section(kept),
    ...buttons(button('Send them to me', 'privacy.export', {})),
    context('As a text file, in our direct messages, for you alone.'),
    section(
      'Or have them erased. Counts and results of those tables are worked out anew without them, posted digests too. Hosts are told how many notes went, not whose.',
    ),
    ...buttons(
      button(
        'Erase my notes',
        'privacy.erase',
        {},
        {
          style: 'danger',
          confirm: {
            title: 'Erase your notes?',
            text: `${counted(notes, 'note')} and everything read in them will be gone. Nobody can bring them back.`,
            yes: 'Erase them',
            no: 'Keep them',
          },
        },
      ),
    ),
    context(
      'Your messages stay in Slack until you delete them there; I will not read them again. Backups of the database hold older copies until they are replaced.',
    ),
  ]);
}

export function onItsWay(): ModalView {
  return done('On its way: your notes come as a text file in our direct messages.');
}

export function erasedForm(counts: OwnCounts): ModalView {
  const notes = counted(counts.notes, 'note');
  return done(
    counts.notes === 0
      ? 'There was nothing left to erase.'
      : `Erased: *${notes}* from ${counted(counts.tables, 'table')}. What those tables found is worked out anew without them.`,
  );
}

function done(sentence: string): ModalView {
  return form('privacy.mine', 'My data', null, [section(sentence)]);
}

/** One of a person's notes as their file tells it. */
export type OwnLine = {
  readonly when: string;
  readonly cup: string | null;
  readonly late: boolean;
  readonly text: string;
  readonly understood: string | null;
};

type OwnTable = { readonly title: string; readonly notes: readonly OwnLine[] };

/** A person's notes as a text file in their direct messages, shared once for each time it is asked for. */
export function ownDataFile(
  subject: string,
  person: string,
  tables: readonly OwnTable[],
  madeAt: string,
): Notice {
  return {
    kind: 'file',
    key: subject,
    place: { kind: 'direct', person },
    file: {
      name: 'my-notes.txt',
      title: 'Your tasting notes',
      comment: 'Your notes, as you asked, with what I read in each. Only you see this.',
      content: { kind: 'text', text: ownDataText(tables, madeAt) },
    },
  };
}

/** What a person was told alone about notes that are gone now: it should no longer stand. */
export function untold(keys: readonly string[], person: string): readonly Notice[] {
  return keys.map((key) => ({ kind: 'message', key, place: { kind: 'direct', person }, message: null }));
}

/** Plain text that reads well anywhere; a note keeps its own line breaks, indented. */
function ownDataText(tables: readonly OwnTable[], madeAt: string): string {
  const parts = tables.map(({ title, notes }) => [title, '', ...notes.map(lineOf)].join('\n'));
  return [`Your tasting notes, as of ${madeAt}.`, ...parts].join('\n\n').concat('\n');
}

function lineOf(note: OwnLine): string {
  const where = note.cup === null ? '' : `, cup ${note.cup}`;
  const late = note.late ? ', after closing' : '';
  const words = note.text.split('\n').join('\n    ');
  const read = note.understood === null ? '' : `\n    ${note.understood}`;
  return `- ${note.when}${where}${late}\n    “${words}”${read}`;
}

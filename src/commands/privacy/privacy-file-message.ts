import type { Notice } from '../../kit/notice.js';

/** One of a person's notes as their file tells it. */
export type OwnLine = {
  readonly when: string;
  readonly cup: string | null;
  readonly late: boolean;
  readonly text: string;
  readonly understood: string | null;
};

export type OwnTable = { readonly title: string; readonly notes: readonly OwnLine[] };

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

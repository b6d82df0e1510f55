/** The database cannot be used; the message says in one line why and what to do. */
export class DatabaseProblem extends Error {
  override readonly name = 'DatabaseProblem';
}

/** A file that is a database but not whole. */
export function damagedDatabase(file: string, finding: string): DatabaseProblem {
  return new DatabaseProblem(
    `The database ${file} is damaged (${firstLine(finding)}). Keep a copy of it, then restore the latest backup.`,
  );
}

/** A file written by a version of Tallyspoon that knows a migration which this one does not. */
export function newerDatabase(file: string, migration: string): DatabaseProblem {
  return new DatabaseProblem(
    `The database ${file} was written by a newer Tallyspoon (${migration}). Update Tallyspoon, or restore a backup made before the update.`,
  );
}

/** A whole database with tables, and none of them ours. */
export function othersDatabase(file: string): DatabaseProblem {
  return new DatabaseProblem(
    `${file} is a database of something else. Set DATABASE to a file of its own for Tallyspoon.`,
  );
}

const SENTENCES: ReadonlyMap<string, (file: string) => string> = new Map([
  [
    'SQLITE_NOTADB',
    (file) =>
      `${file} is not a database, or it is damaged. Restore the latest backup, or set DATABASE to another file.`,
  ],
  [
    'SQLITE_CORRUPT',
    (file) => `The database ${file} is damaged. Keep a copy of it, then restore the latest backup.`,
  ],
  [
    'SQLITE_READONLY',
    (file) => `The database ${file} cannot be written. Let this user write the file and its folder.`,
  ],
  [
    'SQLITE_CANTOPEN',
    (file) =>
      `The database ${file} cannot be opened. Check that the folder exists and this user may write it.`,
  ],
  ['SQLITE_FULL', (file) => `The disk with the database ${file} is full. Make room, then start again.`],
  [
    'SQLITE_IOERR',
    (file) =>
      `The disk with the database ${file} does not answer as it should. Check the disk and its free space.`,
  ],
  [
    'SQLITE_BUSY',
    (file) =>
      `Another process is using the database ${file}. Stop it first, or set DATABASE to another file.`,
  ],
]);

/** Turns SQLite's error into a DatabaseProblem where the cause is known; anything else comes back as it is. */
export function explainDatabaseError(error: unknown, file: string): unknown {
  const code = sqliteCode(error);
  if (code === null) return error;
  const base = [...SENTENCES.keys()].find((known) => code === known || code.startsWith(`${known}_`));
  const sentence = base === undefined ? undefined : SENTENCES.get(base);
  return sentence ? new DatabaseProblem(sentence(file), { cause: error }) : error;
}

function sqliteCode(error: unknown): string | null {
  if (!(error instanceof Error) || !('code' in error) || typeof error.code !== 'string') return null;
  return error.code.startsWith('SQLITE_') ? error.code : null;
}

function firstLine(text: string): string {
  return text.split('\n')[0] ?? text;
}

/** The database cannot be used; the message says in one line why and what to do. */
export class DatabaseProblem extends Error {
  override readonly name = 'DatabaseProblem';
}

/** A file that is a database but not whole. */
export function damagedDatabase(file: string, finding: string): DatabaseProblem {
  return new DatabaseProblem(
    `The database ${file} is damaged (${finding.split('\n')[0]}). Keep a copy of it, then restore the latest backup.`,
  );
}

/** What is the matter by SQLite's code; {file} stands for the database's file. */
const SENTENCES: Readonly<Record<string, string>> = {
  SQLITE_NOTADB:
    '{file} is not a database, or it is damaged. Restore the latest backup, or set DATABASE to another file.',
  SQLITE_CORRUPT: 'The database {file} is damaged. Keep a copy of it, then restore the latest backup.',
  SQLITE_READONLY: 'The database {file} cannot be written. Let this user write the file and its folder.',
  SQLITE_CANTOPEN:
    'The database {file} cannot be opened. Check that the folder exists and this user may write it.',
  SQLITE_FULL: 'The disk with the database {file} is full. Make room, then start again.',
  SQLITE_IOERR:
    'The disk with the database {file} does not answer as it should. Check the disk and its free space.',
  SQLITE_BUSY:
    'Another process is using the database {file}. Stop it first, or set DATABASE to another file.',
};

/** Turns SQLite's error into a DatabaseProblem where the cause is known; anything else comes back as it is. */
export function explainDatabaseError(error: unknown, file: string): unknown {
  if (!(error instanceof Error) || !('code' in error) || typeof error.code !== 'string') return error;
  // "SQLITE_IOERR_WRITE" is a kind of "SQLITE_IOERR".
  const [base] = /^SQLITE_[A-Z]+/u.exec(error.code) ?? [''];
  const sentence = SENTENCES[base];
  return sentence
    ? new DatabaseProblem(
        sentence.replace('{file}', () => file),
        { cause: error },
      )
    : error;
}

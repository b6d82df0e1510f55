import Database from 'better-sqlite3';
import { DatabaseProblem, explainDatabaseError } from './problems.js';

/**
 * Holds a database file for this process alone, through a small lock database beside it: the operating
 * system lets go of it when the process ends in whatever way, and backups may still read the real file.
 *
 * @throws DatabaseProblem when another process holds it
 */
export function lockDatabase(file: string): { release(): void } {
  if (file === ':memory:') return { release: () => {} };
  let lock: Database.Database | undefined;
  try {
    lock = new Database(`${file}.lock`, { timeout: 0 });
    lock.exec('begin exclusive');
  } catch (error) {
    lock?.close();
    const explained = explainDatabaseError(error, file);
    throw explained instanceof DatabaseProblem ? explained : error;
  }
  const held = lock;
  return { release: () => held.close() };
}

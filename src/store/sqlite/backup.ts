import { copyFileSync, existsSync, mkdirSync, readdirSync, renameSync, rmSync } from 'node:fs';
import { basename, join } from 'node:path';
import Database from 'better-sqlite3';
import { lockDatabase } from './open.js';
import { damagedDatabase, explainDatabaseError } from './problems.js';

/** What SQLite keeps beside a database's file. */
const LOGS = ['-wal', '-shm'];
const NAME = /^tallyspoon-\d{8}T\d{6}Z\.db$/;

/**
 * Copies a database into a folder while it is in use, page by page, and checks the copy; it holds everything
 * committed before it began.
 *
 * @returns the copy's path, named after `at` (UTC)
 * @throws DatabaseProblem when the database cannot be read or the copy is not whole
 */
export async function backUp(file: string, folder: string, at: Date): Promise<string> {
  mkdirSync(folder, { recursive: true });
  const name = `tallyspoon-${at.toISOString().slice(0, 19).replace(/[-:]/g, '')}Z.db`;
  const target = join(folder, name);
  const draft = `${target}.part`;
  let source: Database.Database | undefined;
  try {
    source = new Database(file, { readonly: true, fileMustExist: true });
    // One view of the database for the whole copy: without it, every commit of the bot would begin it anew.
    source.exec('begin');
    source.prepare('select count(*) from sqlite_schema').get();
    await source.backup(draft);
    checkWhole(draft);
    renameSync(draft, target);
    return target;
  } catch (error) {
    rmSync(draft, { force: true });
    throw explainDatabaseError(error, file);
  } finally {
    source?.close();
  }
}

/** The backups in a folder, the latest first. */
export function listBackups(folder: string): readonly string[] {
  if (!existsSync(folder)) return [];
  return readdirSync(folder)
    .filter((name) => NAME.test(name))
    .sort()
    .reverse()
    .map((name) => join(folder, name));
}

/** Keeps the latest `keep` backups of a folder; returns those that went. Other files stay. */
export function rotateBackups(folder: string, keep: number): readonly string[] {
  const old = listBackups(folder).slice(keep);
  for (const file of old) rmSync(file);
  return old;
}

/**
 * Puts a backup in the place of a database that no process uses; what was there is kept beside it.
 *
 * @returns where the former database went, or null when there was none
 * @throws DatabaseProblem when a process uses the database or the backup is not whole
 */
export function restoreBackup(backup: string, file: string, at: Date): string | null {
  const lock = lockDatabase(file);
  try {
    checkWhole(backup);
    const former = existsSync(file) ? `${file}.before-${at.toISOString().replace(/[-:.]/g, '')}` : null;
    if (former !== null)
      for (const suffix of ['', ...LOGS])
        if (existsSync(file + suffix)) renameSync(file + suffix, former + suffix);
    // Under another name first: a copy that is cut short is never taken for the database.
    copyFileSync(backup, `${file}.part`);
    renameSync(`${file}.part`, file);
    return former;
  } finally {
    lock.release();
  }
}

function checkWhole(file: string): void {
  // A reader makes an empty log where there is none, and may not take it away again.
  const made = LOGS.map((suffix) => file + suffix).filter((log) => !existsSync(log));
  let copy: Database.Database | undefined;
  try {
    copy = new Database(file, { readonly: true, fileMustExist: true });
    const finding = copy.pragma('integrity_check(1)', { simple: true });
    if (finding !== 'ok') throw damagedDatabase(basename(file), String(finding));
  } catch (error) {
    throw explainDatabaseError(error, file);
  } finally {
    copy?.close();
    for (const log of made) rmSync(log, { force: true });
  }
}

import { ConfigProblem, readConfig, readEnvFile } from '../app/config.js';
import { backUp, restoreBackup } from '../store/sqlite/backup.js';
import { DatabaseProblem } from '../store/sqlite/problems.js';

/*
 * `npm run backup [folder]` copies the database, also while the bot runs. `npm run backup -- --restore FILE`
 * puts a copy back; the bot must be stopped.
 */

const [first, second] = process.argv.slice(2);

try {
  readEnvFile();
  const { database, backupDir } = readConfig(process.env);
  if (first === '--restore') restore(database, second);
  else await copy(database, first ?? backupDir);
} catch (error) {
  if (!(error instanceof ConfigProblem) && !(error instanceof DatabaseProblem)) throw error;
  console.error(error.message);
  process.exitCode = 1;
}

async function copy(database: string, folder: string | null): Promise<void> {
  if (folder === null)
    throw new DatabaseProblem('Where to? Name a folder: npm run backup -- FOLDER, or set BACKUP_DIR.');
  console.log(`Backed up and checked: ${await backUp(database, folder, new Date())}`);
}

function restore(database: string, backup: string | undefined): void {
  if (backup === undefined) throw new DatabaseProblem('Which backup? npm run backup -- --restore FILE');
  const former = restoreBackup(backup, database, new Date());
  console.log(`${database} is now ${backup}.`);
  if (former !== null) console.log(`What was there before is kept as ${former}.`);
}

import { copyFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { type OpenDatabase, openDatabase } from '../../../src/store/sqlite/open.js';
import { tempFolder } from '../../slack/support/test-bot.js';

/* A copy of the stored tasting, to be asked for by its own workspace and by another. */

export const OWN = 'T0FERN';
export const OTHER = 'T0OTHER';
export const AT = new Date('2027-01-01T00:00:00Z');
const STORED = 'fixtures/stored-databases';

export type Look = (workspace: string) => Promise<unknown>;

export async function openStoredStory(): Promise<OpenDatabase> {
  const folder = tempFolder();
  const file = join(folder.path, 'bot.db');
  copyFileSync(join(STORED, readdirSync(STORED).toSorted().at(-1) ?? ''), file);
  const open = await openDatabase(file);
  return {
    ...open,
    close: async () => {
      await open.close();
      folder.remove();
    },
  };
}

/** How much of something is found, whatever holds it. */
export function amount(found: unknown): number {
  if (found === null || found === undefined || found === false) return 0;
  if (found instanceof Map || found instanceof Set) return found.size;
  return Array.isArray(found) ? found.length : 1;
}

/** Every row by its table, but those under the other workspace's name, which may keep what it likes of its own. */
export function rowsButOthers({ sqlite }: OpenDatabase): Readonly<Record<string, readonly string[]>> {
  const tables = sqlite
    .prepare<[], string>("select name from sqlite_schema where type = 'table' and name not like 'sqlite_%'")
    .pluck()
    .all();
  const rowsOf = (name: string) => sqlite.prepare(`select * from "${name}"`).all();
  return Object.fromEntries(
    tables.map((name) => [
      name,
      rowsOf(name)
        .map((row) => JSON.stringify(row))
        .filter((row) => !row.includes(OTHER)),
    ]),
  );
}

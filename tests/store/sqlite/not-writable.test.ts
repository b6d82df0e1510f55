import { chmodSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { openDatabase } from '../../../src/store/sqlite/open.js';
import { tempFolder } from '../../slack/support/test-bot.js';
import { asNobody } from '../support/as-nobody.js';

let folder: ReturnType<typeof tempFolder>;
let file: string;
beforeEach(async () => {
  folder = tempFolder();
  file = join(folder.path, 'bot.db');
  await (await openDatabase(file)).close();
});
afterEach(() => {
  chmodSync(folder.path, 0o755);
  folder.remove();
});

/** What opening it comes to for a user who may do no more than the permissions say. */
const opening = () =>
  asNobody(() =>
    openDatabase(file).then(
      async (open) => {
        await open.close();
        return 'opened';
      },
      (error: unknown) => String(error),
    ),
  );

test.each([
  ['a read-only file', 0o777, 0o444],
  ['a read-only file in a read-only folder', 0o555, 0o444],
  ['a read-only folder', 0o555, 0o666],
])('%s is said at start in one line, not with the first note', async (_what, ofFolder, ofFile) => {
  chmodSync(file, ofFile);
  chmodSync(folder.path, ofFolder);
  expect(await opening()).toMatch(/^DatabaseProblem: The database .*bot\.db cannot be written\. Let this.*$/);
});

test('a file and folder that may be written open for the same user', async () => {
  chmodSync(file, 0o666);
  chmodSync(folder.path, 0o777);
  expect(await opening()).toBe('opened');
});

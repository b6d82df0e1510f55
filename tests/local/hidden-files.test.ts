import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, expect, test } from 'vitest';
import { fernhollow } from '../../src/local/scenario.js';
import { startWorkspace } from '../../src/local/workspace.js';

let folder = '';
afterEach(() => rmSync(folder, { recursive: true, force: true }));

test('nothing in a hidden folder or with a hidden name is served, whatever its type', async () => {
  folder = mkdtempSync(join(tmpdir(), 'page-'));
  mkdirSync(join(folder, '.cache'));
  writeFileSync(join(folder, 'main.js'), 'export {}');
  writeFileSync(join(folder, '.cache', 'kept.js'), 'secret');
  writeFileSync(join(folder, '.keys.js'), 'secret');
  const workspace = await startWorkspace({ scenario: fernhollow, pageDirectory: folder });
  const status = async (path: string) => (await fetch(workspace.url + path)).status;
  expect(await status('/main.js')).toBe(200);
  for (const path of ['/.cache/kept.js', '/%2Ecache/kept.js', '/.keys.js', '/x/%2e%2e/.keys.js'])
    expect([path, await status(path)]).toEqual([path, 404]);
  await workspace.close();
});

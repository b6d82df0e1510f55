import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterEach, expect, test } from 'vitest';

const MAIN = resolve('dist/main.js');
const folders: string[] = [];
afterEach(() => {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
});

/** Starts the built bot in a folder where nothing is yet, and ends it once it has said where it is. */
async function startIn(folder: string, ...flags: string[]): Promise<{ said: string; code: number | null }> {
  const child = spawn(process.execPath, [MAIN, ...flags], {
    cwd: folder,
    env: { PATH: process.env['PATH'], PORT: '0', LOG_LEVEL: 'error' },
  });
  let said = '';
  child.stderr.on('data', (data: Buffer) => {
    said += data.toString();
  });
  child.stdout.on('data', (data: Buffer) => {
    said += data.toString();
    if (said.includes('Ctrl-C')) child.kill('SIGTERM');
  });
  const code = await new Promise<number | null>((done) => child.on('exit', done));
  return { said, code };
}

test.each([[[]], [['--fresh']]])(
  'a first start in an empty folder serves the page and ends cleanly (%j)',
  async (flags) => {
    const folder = mkdtempSync(join(tmpdir(), 'tallyspoon-start-'));
    folders.push(folder);
    const { said, code } = await startIn(folder, ...flags);
    expect(said).toMatch(/Open http:\/\/127\.0\.0\.1:\d+/);
    expect(code).toBe(0);
  },
  60_000,
);

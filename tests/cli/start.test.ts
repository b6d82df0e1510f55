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

test('npm start that is told to stop stops the bot within three seconds', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'tallyspoon-start-'));
  folders.push(folder);
  const npm = spawn('npm', ['start'], {
    env: { ...process.env, PORT: '0', LOG_LEVEL: 'error', DATABASE: join(folder, 'bot.db') },
  });
  const url = await new Promise<string>((found) => {
    let said = '';
    npm.stdout.on('data', (data: Buffer) => {
      said += data.toString();
      const here = /http:\/\/127\.0\.0\.1:\d+/.exec(said)?.[0];
      if (here !== undefined && said.includes('Ctrl-C')) found(here);
    });
  });
  expect((await fetch(url)).ok).toBe(true);
  npm.kill('SIGTERM');
  await expect
    .poll(
      () =>
        fetch(url).then(
          () => 'answers',
          () => 'gone',
        ),
      { timeout: 3000 },
    )
    .toBe('gone');
}, 60_000);

test('what a command prints is all there is on standard output', async () => {
  const notes = spawn('npm', ['run', '-s', 'notes', '--', '-']);
  let said = '';
  notes.stdout.on('data', (data: Buffer) => {
    said += data.toString();
  });
  notes.stdin.end('lemon, black tea\n');
  await new Promise((done) => notes.on('close', done));
  expect(JSON.parse(said)).toMatchObject({ text: 'lemon, black tea' });
}, 60_000);

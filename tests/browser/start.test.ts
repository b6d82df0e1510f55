import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser } from './browser.js';
import { phoneOf } from './phone.js';

let browser: Browser;
let folder: string;
let port: number;
let running: ChildProcess | undefined;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'tallyspoon-start-'));
  port = await freePort();
  browser = await launchBrowser();
});

afterAll(async () => {
  running?.kill('SIGKILL');
  await browser.close();
  rmSync(folder, { recursive: true, force: true });
});

async function freePort(): Promise<number> {
  const server = createServer();
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  const address = server.address();
  server.close();
  if (address === null || typeof address === 'string') throw new Error('no port is free');
  return address.port;
}

/** What `npm start` runs, without Slack variables, until it says where the page is. */
async function start(
  ...words: readonly string[]
): Promise<{ readonly child: ChildProcess; readonly said: string }> {
  const child = spawn(process.execPath, ['dist/main.js', ...words], {
    env: { PATH: process.env['PATH'], PORT: String(port), DATABASE: join(folder, 'tallyspoon.db') },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  running = child;
  let said = '';
  await new Promise<void>((resolve, reject) => {
    child.stderr.on('data', (chunk: Buffer) => {
      said += chunk.toString();
    });
    child.stdout.on('data', (chunk: Buffer) => {
      said += chunk.toString();
      if (said.includes(`http://127.0.0.1:${port}`)) resolve();
    });
    child.once('exit', (code) => reject(new Error(`it ended with ${code}: ${said}`)));
  });
  return { child, said };
}

async function stop(child: ChildProcess): Promise<number | null> {
  const ended = once(child, 'exit');
  child.kill('SIGTERM');
  await ended;
  return child.exitCode;
}

test('one command serves the page; stopped and started again, an open page goes on where it was', async () => {
  const first = await start('--fresh');
  expect(first.said).toContain(`Open http://127.0.0.1:${port}`);
  const ines = await phoneOf(browser, `http://127.0.0.1:${port}`, 'ines');
  await ines.openChannel();
  await ines.say('here before the restart');
  await ines.say('/spoon help');
  await ines.slip('What I can do').waitFor();

  expect(await stop(first.child)).toBe(0);
  await ines.page
    .getByRole('alert')
    .getByText(/connection to the workspace is lost/)
    .waitFor();

  const second = await start();
  await ines.page.getByText(/connection to the workspace is lost/).waitFor({ state: 'detached' });
  await ines.slip('here before the restart').waitFor();
  await ines.say('/spoon shelf');
  await ines.slip('Kayanza Hill').waitFor();
  expect(await stop(second.child)).toBe(0);
});

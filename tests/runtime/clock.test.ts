import { writeFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { fileClock } from '../../src/runtime/clock.js';
import { tempFolder } from '../slack/support/test-bot.js';

test('the time is moved by what the file says, and those who wait for it are told', async () => {
  const folder = tempFolder();
  const file = `${folder.path}/clock.json`;
  const clock = fileClock(file);
  let moves = 0;
  const stop = clock.onMove(() => {
    moves += 1;
  });
  expect(Math.abs(clock.now().getTime() - Date.now())).toBeLessThan(1000);
  writeFileSync(file, JSON.stringify({ offsetMs: 86_400_000 }));
  await expect.poll(() => moves).toBe(1);
  expect(Math.round((clock.now().getTime() - Date.now()) / 1000)).toBe(86_400);
  writeFileSync(file, '{"offsetMs": 1');
  await new Promise((resolve) => setTimeout(resolve, 250));
  expect(Math.round((clock.now().getTime() - Date.now()) / 1000)).toBe(86_400);
  stop();
  folder.remove();
});

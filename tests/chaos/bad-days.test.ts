import { expect, test } from 'vitest';
import { isCutOff } from './bad-days.js';

const lives = (kills: number) => Array.from({ length: kills }, (_, index) => index + 1);

test('every run of eight lives or more has one in which Slack gives its events up, while the table is open', () => {
  for (const kills of [8, 12, 15, 50])
    for (let seed = 1; seed <= 40; seed += 1) {
      const alone = lives(kills).filter((phase) => isCutOff(seed, phase, kills));
      expect(alone.length).toBeGreaterThan(0);
      expect(alone.every((phase) => phase >= 0.42 * kills && phase <= 0.68 * kills)).toBe(true);
    }
});

test('the same seed cuts the bot off in the same lives', () => {
  const once = lives(50).filter((phase) => isCutOff(7, phase, 50));
  expect(lives(50).filter((phase) => isCutOff(7, phase, 50))).toEqual(once);
  const others = lives(50).filter((phase) => isCutOff(8, phase, 50));
  expect(others).not.toEqual(once);
});

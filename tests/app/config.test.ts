import { expect, test } from 'vitest';
import { ConfigProblem, readConfig } from '../../src/app/config.js';

const BOT = { SLACK_BOT_TOKEN: 'xoxb-1' };
const SECRET = { SLACK_SIGNING_SECRET: '0123456789abcdef' };

test('without Slack variables, also when they are empty, it is the local workspace', () => {
  expect(readConfig({ SLACK_BOT_TOKEN: ' ' })).toMatchObject({
    connection: { mode: 'local' },
    database: 'data/tallyspoon.db',
    logLevel: 'info',
  });
});

test('an app token makes it Socket Mode, a signing secret HTTP', () => {
  expect(readConfig({ ...BOT, SLACK_APP_TOKEN: 'xapp-1' }).connection.mode).toBe('socket');
  expect(readConfig({ ...BOT, ...SECRET, PORT: '8080' }).connection).toMatchObject({
    mode: 'http',
    port: 8080,
    host: '127.0.0.1',
  });
});

test.each([
  [
    BOT,
    /SLACK_BOT_TOKEN alone is not enough: set SLACK_APP_TOKEN too \(Socket Mode\), or SLACK_SIGNING_SECRET/,
  ],
  [SECRET, /SLACK_BOT_TOKEN is missing/],
  [{ SLACK_BOT_TOKEN: 'xoxp-1', ...SECRET }, /starts with xoxb-/],
  [{ ...BOT, SLACK_APP_TOKEN: 'xoxb-1' }, /starts with xapp-/],
  [{ ...BOT, SLACK_SIGNING_SECRET: 'short' }, /SLACK_SIGNING_SECRET is too short/],
  [{ PORT: 'eighty' }, /PORT must be a port number/],
  [{ LOG_LEVEL: 'loud' }, /LOG_LEVEL must be one of fatal, error/],
  [{ SLACK_API_URL: 'https://example.org/api/' }, /SLACK_API_URL may only name this machine/],
  [{ TALLYSPOON_CLOCK_FILE: '/tmp/clock' }, /TALLYSPOON_CLOCK_FILE only works beside/],
])('%j is refused with what to set', (environment, sentence) => {
  expect(() => readConfig(environment)).toThrow(sentence);
});

test('every problem is named at once', () => {
  try {
    readConfig({ SLACK_BOT_TOKEN: 'nope', PORT: '-1', LOG_LEVEL: 'loud' });
    expect.unreachable();
  } catch (error) {
    expect(error).toBeInstanceOf(ConfigProblem);
    expect(error instanceof ConfigProblem && error.problems).toHaveLength(4);
  }
});

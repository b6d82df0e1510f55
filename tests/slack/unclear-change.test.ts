import { afterEach, beforeEach, expect, test } from 'vitest';
import type { Notice } from '../../src/kit/notice.js';
import { type FakeSlack, startFakeSlack } from './support/fake-slack.js';
import { message, quietBot, show, startTestBot } from './support/test-bot.js';

let slack: FakeSlack;
let wanted: readonly Notice[] = [];
const bot = quietBot({ notices: async () => wanted });
beforeEach(async () => {
  slack = await startFakeSlack();
  wanted = [];
});
afterEach(() => slack.stop());

const reacts = (name: string | null): Notice => ({
  kind: 'reaction',
  key: 'reaction:1',
  channel: 'C1',
  ts: '1.000001',
  name,
});

/** Slack does what is asked and the answer is lost, until somebody wants something else. */
function losesAnswers(of: string): { readonly tried: Promise<void> } {
  let heard = () => {};
  const tried = new Promise<void>((resolve) => {
    heard = resolve;
  });
  slack.failAfter = ({ method }) => {
    if (method !== of) return null;
    heard();
    return { cut: true };
  };
  return { tried };
}

test('a card goes back to what it said before, although Slack never said that it had changed it', async () => {
  const running = await startTestBot({ slack, bot, more: { updateGapMs: 0 } });
  wanted = [message('table:1', 'open')];
  await show(running);
  await running.settled();
  const { tried } = losesAnswers('chat.update');
  wanted = [message('table:1', 'closed')];
  await show(running);
  await tried;
  slack.failAfter = null;
  wanted = [message('table:1', 'open')];
  await show(running);
  expect(await running.settled()).toBe(true);
  expect(slack.messages.map(({ text }) => text)).toEqual(['open']);
  await running.stop();
});

test('a reaction that Slack may have made is taken away when another is wanted instead', async () => {
  const running = await startTestBot({ slack, bot, more: { updateGapMs: 0 } });
  const { tried } = losesAnswers('reactions.add');
  wanted = [reacts('spoon')];
  await show(running);
  await tried;
  slack.failAfter = null;
  wanted = [reacts('grey_question')];
  await show(running);
  expect(await running.settled()).toBe(true);
  const calls = slack.calls.filter(({ method }) => method.startsWith('reactions.'));
  const standing = new Set<string>();
  for (const { method, args } of calls)
    if (method === 'reactions.add') standing.add(args['name'] ?? '');
    else standing.delete(args['name'] ?? '');
  expect([...standing]).toEqual(['grey_question']);
  await running.stop();
});

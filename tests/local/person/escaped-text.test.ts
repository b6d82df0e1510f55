import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { emojiNamed } from '../../../src/local/person/escaped-text.js';
import { startRecorder } from '../recording-bot.js';
import { ids, openWorkspace } from '../workbench.js';

describe('emoji', () => {
  // Names by the emoji lists that Slack and other chats share (iamcal/emoji-data); checked from memory.
  test.each([
    ['🍋', ':lemon:'],
    ['tons of 🍇🍯!', 'tons of :grapes::honey_pot:!'],
    ['👍', ':+1:'],
    ['👍🏽', ':+1::skin-tone-4:'],
    ['☕ and ❤️', ':coffee: and :heart:'],
    ['no emoji, 4/5 © №', 'no emoji, 4/5 © №'],
  ])('%s is sent as %s', (typed, sent) => {
    expect(emojiNamed(typed)).toBe(sent);
  });
});

test('whatever is typed, nothing but Slack’s own forms is left in brackets, and the words survive', async () => {
  const { workspace, people } = await openWorkspace();
  const bot = await startRecorder(workspace);
  const typed = fc.string({
    unit: fc.constantFrom('<', '>', '&', '@', '!', '|', ' ', 'a', 'noor', 'here', '#', ':'),
    minLength: 1,
  });
  await fc.assert(
    fc.asyncProperty(
      typed.filter((text) => text.trim() !== ''),
      async (text) => {
        const from = bot.events().length;
        await people.say({ as: ids.noor, channel: ids.channel, text });
        await people.settled({ quietMs: 0 });
        const sent = String(bot.events()[from]?.['text']);
        const stripped = sent.replaceAll(
          /<(@U[A-Z0-9]+|!here|#C[A-Z0-9]+\|[a-z-]+|mailto:[^|<>]+\|[^<>]+)>/g,
          '',
        );
        expect(stripped).not.toMatch(/[<>]|&(?!amp;|lt;|gt;)/);
        const back = sent
          .replaceAll(`<@${ids.noor}>`, '@noor')
          .replaceAll('<!here>', '@here')
          .replaceAll('&lt;', '<')
          .replaceAll('&gt;', '>')
          .replaceAll('&amp;', '&');
        expect(back).toBe(text);
      },
    ),
    { numRuns: 60 },
  );
});

test('saving the same words again tells the bot nothing', async () => {
  const { workspace, people } = await openWorkspace();
  const bot = await startRecorder(workspace);
  const ts = await people.say({ as: ids.noor, channel: ids.channel, text: 'lemon' });
  await people.post('edit', { as: ids.noor, channel: ids.channel, ts, text: 'lemon' });
  await people.settled();
  expect(bot.events()).toHaveLength(1);
  expect(await people.messages(ids.noor, ids.channel)).toMatchObject([{ edited: false }]);
});

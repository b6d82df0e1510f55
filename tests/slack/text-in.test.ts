import { expect, test } from 'vitest';
import { decodeText, wordsWithoutMention } from '../../src/slack/in/slack-event.js';

// The forms are those of Slack's page on formatting text (docs.slack.dev, "Formatting message text").
test.each([
  ['lemon &amp; lime &lt;3', 'lemon & lime <3'],
  ['&amp;lt; stays as typed', '&lt; stays as typed'],
  [
    'see <https://example.org/a?b=1&amp;c=2|the page> or <https://example.org>',
    'see the page or https://example.org',
  ],
  ['<mailto:ines@example.org|ines@example.org>', 'ines@example.org'],
  ['with <@U2NOOR|noor> and <@U4TEO> in <#C1|tasting-table>', 'with <@U2NOOR> and <@U4TEO> in <#C1>'],
  ['<!here> <!subteam^S1|@baristas> <!channel>', '@here @baristas @channel'],
  ['<!date^1800000000^{date}|15 January> at two', '15 January at two'],
  ['lemon\u0000, \u0007tea\nand honey', 'lemon, tea\nand honey'],
  ['D > E and 3 < 4', 'D > E and 3 < 4'],
])('%j is read as %j', (sent, read) => {
  expect(decodeText(sent)).toBe(read);
});

test('a mention of the bot is told from the words said to it, and nobody else’s is', () => {
  expect(wordsWithoutMention('<@U0BOT>: pour 3:2:1 ', 'U0BOT')).toBe('pour 3:2:1');
  expect(wordsWithoutMention('thanks <@U0BOT>', 'U0BOT')).toBe('thanks');
  expect(wordsWithoutMention('<@U2NOOR> tally\u00a0T1', 'U0BOT')).toBe('<@U2NOOR> tally T1');
});

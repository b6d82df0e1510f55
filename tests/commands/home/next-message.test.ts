import { expect, test } from 'vitest';
import { homeView, type NextStep, nextMessage } from '../../../src/commands/home/home-messages.js';

function steps(count: number): readonly NextStep[] {
  return Array.from({ length: count }, (_, index) => ({
    text: `T${index + 1} is open. When everyone has written, close it.`,
    label: 'Close the table',
    action: 'table.close',
    value: { tasting: index + 1 },
  }));
}

test('the first twelve steps are shown and the others counted, in the words for a screen reader too', () => {
  const { text, blocks } = nextMessage(steps(24));
  expect(text).toContain('T12 is open.');
  expect(text).not.toContain('T13');
  expect(text).toMatch(/And 12 more\.$/);
  expect(JSON.stringify(blocks)).toContain('And 12 more.');
  expect(JSON.stringify(homeView(steps(24)))).toContain('And 12 more.');
});

test('as many as fit are shown whole, and nothing is said of more', () => {
  const { text, blocks } = nextMessage(steps(12));
  expect(text).toContain('T12 is open.');
  expect(text + JSON.stringify(blocks)).not.toContain('more.');
});

test('what people wrote is made safe in the words and in the blocks, and our own code stays code', () => {
  const step = {
    text: 'Your note “<!channel>” names no cup: `/spoon note`',
    label: null,
    action: null,
    value: null,
  };
  const { text, blocks } = nextMessage([step]);
  for (const shown of [text, JSON.stringify(blocks)]) {
    expect(shown).not.toContain('<!channel>');
    expect(shown).toContain('`/spoon note`');
  }
});

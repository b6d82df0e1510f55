import { expect, test } from 'vitest';
import { UserError } from '../../src/runtime/errors.js';
import { messageFor, plainSentence } from '../../src/slack/out/error-messages.js';

/* A refusal may repeat what somebody typed; whoever wrote the refusal may have forgotten to make it safe. */

const said = (text: string, instead: string | null = null) => messageFor(new UserError(text, instead)).text;

test.each(['@here', '@channel', '@everyone', '@Channel'])('%s in a refusal calls nobody', (call) => {
  expect(said(`I do not know “${call}”.`)).not.toContain(call);
  expect(said('Sorry.', `Type it without ${call}.`)).not.toContain(call);
});

test.each(['<!channel>', '<!here|here>', '<https://example.org|our site>', '<javascript:alert(1)|x>'])(
  '%s in a refusal is shown as typed, not acted upon',
  (form) => {
    expect(said(`I do not know “${form}”.`)).not.toMatch(/<[!a-z]/);
    expect(said(`I do not know “${form}”.`)).toContain('&lt;');
  },
);

test('people and channels are named, entities are not escaped twice, and nothing hidden stays', () => {
  expect(said('Ask <@U1INES> in <#C1> about salt &amp; light.')).toBe(
    'Ask <@U1INES> in <#C1> about salt &amp; light.',
  );
  expect(said('a\u202eb\u200bc\u0007d')).toBe('abcd');
});

test('beside a form’s field the same sentence is plain text', () => {
  const refusal = new UserError('Salt &amp; “&lt;b&gt;”?', 'Type `2:1:1`.');
  expect(plainSentence(refusal)).toBe('Salt & “<b>”? Type 2:1:1.');
});

import { afterEach, expect, test } from 'vitest';
import type { Bot } from '../../src/commands/common/bot.js';
import { say } from '../../src/kit/blocks.js';
import { form, textInput } from '../../src/kit/form.js';
import { UserError } from '../../src/runtime/errors.js';
import { markChanged } from '../../src/store/changed.js';
import { setReminder } from '../../src/store/reminders.js';
import { type StoryHouse, startHouse } from '../stories/start-house.js';
import { quietBot } from './support/test-bot.js';

let house: StoryHouse | undefined;
afterEach(async () => {
  await house?.stop();
  house = undefined;
});

async function begin(does: Partial<Bot>): Promise<StoryHouse> {
  house = await startHouse({ bot: quietBot(does) });
  return house;
}

test('a command is answered to the one who typed it', async () => {
  const story = await begin({ typed: async (_, { words }) => ({ message: say(`You said ${words}`) }) });
  const answer = await story.as('ines').command('/spoon help & more');
  expect(answer).toMatchObject({ ok: true, status: 200 });
  expect(answer.response).toMatchObject({ text: 'You said help & more', ephemeral: true });
});

test('a refusal is shown as it is; a fault is an apology whose reference is in the log', async () => {
  const lines: string[] = [];
  house = await startHouse({
    onLog: (line) => lines.push(line),
    bot: quietBot({
      typed: async (_, { words }) => {
        if (words === 'secret') throw new Error('the pot is empty');
        throw new UserError('I know no table <!channel> T9.', 'Type `/spoon table`.');
      },
    }),
  });
  const refused = await house.as('ines').command('/spoon table T9');
  expect(refused.response?.text).toBe('I know no table &lt;!channel&gt; T9.\nType `/spoon table`.');
  const failed = await house.as('ines').command('/spoon secret');
  const reference = /reference: ([A-Z0-9]{6})/.exec(failed.response?.text ?? '')?.[1];
  expect(reference).toMatch(/^[A-Z0-9]{6}$/);
  expect(
    lines.filter((line) => line.includes(reference ?? '?') && line.includes('the pot is empty')),
  ).toHaveLength(1);
});

test('a form opens from a command, keeps its errors, and says its last word where it was opened', async () => {
  const story = await begin({
    typed: async () => ({ form: form('book', 'Book a table', 'Book', [textInput('when', 'When')]) }),
    submitted: async (_, { form: filled }) => {
      if (filled.values.get('when') === 'fri') return { message: say('Booked for Friday') };
      throw new UserError('Which day is that?', 'Try `fri 14:00`.', 'when');
    },
  });
  const ines = story.as('ines');
  await ines.command('/spoon book');
  expect(await ines.submit({ when: 'someday' })).toMatchObject({
    closed: false,
    errors: { when: 'Which day is that? Try fri 14:00.' },
  });
  expect(await ines.submit({ when: 'fri' })).toMatchObject({ closed: true });
  const messages = await ines.messages();
  expect(messages.at(-1)).toMatchObject({ text: 'Booked for Friday', ephemeral: true });
});

test('a mention that needs a form offers a button, which opens it', async () => {
  const story = await begin({
    received: async (_, { kind }) =>
      kind === 'app_mention'
        ? { form: form('book', 'Book a table', 'Book', [textInput('when', 'When')]) }
        : null,
    typed: async (_, { words }) => ({
      form: form('book', words.slice(0, 24), 'Book', [textInput('when', 'When')]),
    }),
  });
  const ines = story.as('ines');
  await ines.say('@tallyspoon book');
  const offer = (await ines.messages()).at(-1);
  expect(offer?.ephemeral).toBe(true);
  if (!offer) return;
  await ines.tap(offer, 'typed_again');
  expect(await ines.form()).toMatchObject({ title: { text: 'book' } });
});

test('a reminder fires once when the clock is moved over it, also across a restart', async () => {
  const fired: string[] = [];
  const bot = quietBot({ due: async (_, { key }) => void fired.push(key) });
  house = await startHouse({ bot });
  const { deps, workspace } = house.bot;
  const dueAt = new Date(deps.clock.now().getTime() + 86_400_000);
  for (const key of ['one', 'two'])
    await setReminder(deps.db, { workspace, key, subject: 'ask:1', kind: 'day before', dueAt, detail: {} });
  await house.advance(80_000_000);
  expect(fired).toEqual([]);
  await house.advance(7_000_000);
  expect(fired).toEqual(['one', 'two']);
  await house.restartBot();
  await house.settle();
  expect(fired).toEqual(['one', 'two']);
});

test('notes written, changed and deleted while the bot was away are found when it is back', async () => {
  const seen: string[] = [];
  const bot = quietBot({
    concerns: async (_, received) => 'threadTs' in received && received.threadTs !== null,
    received: async (_, received) => {
      seen.push(JSON.stringify(received));
      return null;
    },
    notices: async (_, __, subject) =>
      subject === 'tasting:1'
        ? [
            {
              kind: 'message',
              key: 'cup:1',
              place: { kind: 'channel', channel: house?.channel ?? '' },
              message: say('Cup A'),
            },
          ]
        : [],
  });
  house = await startHouse({ bot });
  await markChanged(house.bot.deps.db, house.bot.workspace, 'tasting:1', new Date());
  house.bot.runtime.wake();
  await house.settle();
  const card = (await house.as('noor').messages()).find(({ text }) => text === 'Cup A');
  await house.stopBot();
  await house.client.say({ as: house.id('noor'), channel: house.channel, text: 'lemon', thread: card?.ts });
  await house.restartBot();
  await expect.poll(() => seen.some((body) => body.includes('lemon')), { timeout: 5000 }).toBe(true);
});

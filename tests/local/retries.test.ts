import { expect, test } from 'vitest';
import { type BotAnswer, startRecorder } from './recording-bot.js';
import { ids, openWorkspace } from './workbench.js';

/** A bot that gives these answers in turn, and then agrees. */
async function withAnswers(answers: readonly BotAnswer[]) {
  const { workspace, people } = await openWorkspace({ ackTimeoutMs: 1_500 });
  let turn = 0;
  const bot = await startRecorder(workspace, () => answers[turn++] ?? {});
  await people.say({ as: ids.noor, channel: ids.channel, text: 'lemon' });
  await people.settled();
  return { people, bot };
}

const retry = (bot: Awaited<ReturnType<typeof startRecorder>>) =>
  bot.received.map(({ headers }) => [headers['x-slack-retry-num'], headers['x-slack-retry-reason']]);

test('an event that is not acknowledged comes again at once, after a minute and after five', async () => {
  const { people, bot } = await withAnswers(Array(9).fill({ status: 500 }));
  expect(retry(bot)).toEqual([
    [undefined, undefined],
    ['1', 'http_error'],
  ]);
  await people.clock({ advance: 59_000 });
  await people.settled();
  expect(bot.received).toHaveLength(2);
  await people.clock({ advance: 1_000 });
  await people.settled();
  expect(bot.received).toHaveLength(3);
  await people.clock({ advance: 299_000 });
  await people.settled();
  expect(bot.received).toHaveLength(3);
  await people.clock({ advance: 1_000 });
  await people.settled();
  expect(retry(bot).slice(2)).toEqual([
    ['2', 'http_error'],
    ['3', 'http_error'],
  ]);
  expect(new Set(bot.received.map((one) => one.body['event_id'])).size).toBe(1);
  await people.clock({ advance: 86_400_000 });
  await people.settled();
  expect(bot.received).toHaveLength(4);
});

test('an answer that comes too late counts as none', async () => {
  const { people, bot } = await withAnswers([{ afterMs: 2_500 }]);
  expect(retry(bot)).toEqual([
    [undefined, undefined],
    ['1', 'http_timeout'],
  ]);
  const deliveries = await people.deliveries();
  expect(deliveries.map(({ status, error, retryNum }) => [status, error, retryNum])).toEqual([
    [0, 'http_timeout', 0],
    [200, undefined, 1],
  ]);
});

test('a bot that refuses and asks for no retry gets none', async () => {
  const { people, bot } = await withAnswers([{ status: 500, headers: { 'x-slack-no-retry': '1' } }]);
  await people.clock({ advance: 600_000 });
  await people.settled();
  expect(bot.received).toHaveLength(1);
});

test('a bot that is away gets the event when it comes back in time', async () => {
  const { workspace, people } = await openWorkspace();
  await people.say({ as: ids.noor, channel: ids.channel, text: 'lemon' });
  await people.settled();
  expect((await people.deliveries()).map((one) => one.error)).toEqual([
    'connection_failed',
    'connection_failed',
  ]);
  const bot = await startRecorder(workspace);
  await people.clock({ advance: 60_000 });
  await people.settled();
  expect(retry(bot)).toEqual([['2', 'connection_failed']]);
});

test('the state says whether the bot is there', async () => {
  const { workspace, people } = await openWorkspace();
  expect((await people.state()).bot.online).toBe(false);
  await startRecorder(workspace);
  await expect.poll(async () => (await people.state()).bot.online).toBe(true);
});

test('a command that gets no answer in time tells the person so and is not tried again', async () => {
  const { workspace, people } = await openWorkspace({ ackTimeoutMs: 150 });
  const bot = await startRecorder(workspace, () => ({ afterMs: 300 }));
  const answer = await people.command({ as: ids.ines, channel: ids.channel, text: '/spoon' });
  expect(answer).toEqual({ ok: false, status: 0, error: 'operation_timeout' });
  await people.clock({ advance: 600_000 });
  await people.settled();
  expect(bot.received).toHaveLength(1);
});

import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { createRightOfWay } from '../../src/slack/right-of-way.js';

beforeEach(() => void vi.useFakeTimers({ toFake: ['setTimeout', 'performance'] }));
afterEach(() => void vi.useRealTimers());

function started() {
  const rightOfWay = createRightOfWay();
  const steps: string[] = [];
  const step = (name: string, way: Promise<void>) => void way.then(() => steps.push(name));
  return { rightOfWay, steps, step };
}

test('with nothing else to do, counting and showing go at once', async () => {
  const { rightOfWay, steps, step } = started();
  step('show', rightOfWay.toShow());
  step('count', rightOfWay.toCount());
  await vi.advanceTimersByTimeAsync(0);
  expect(steps).toEqual(['show', 'count']);
});

test('the event loop, and with it the next request, has its turn between two steps that were asked for together', async () => {
  const { rightOfWay } = started();
  let turn = 0;
  let again: NodeJS.Immediate | undefined;
  const count = () => {
    turn += 1;
    again = setImmediate(count);
  };
  count();
  const turns = [rightOfWay.toShow(), rightOfWay.toShow(), rightOfWay.toShow()].map((way) =>
    way.then(() => turn),
  );
  const [first = 0, second = 0, third = 0] = await Promise.all(turns);
  clearImmediate(again);
  expect(second).toBeGreaterThan(first);
  expect(third).toBeGreaterThan(second);
});

test('while a request is being answered the rest waits, and a moment longer for the next one', async () => {
  const { rightOfWay, steps, step } = started();
  const answered = rightOfWay.answering();
  step('count', rightOfWay.toCount());
  await vi.advanceTimersByTimeAsync(50);
  expect(steps).toEqual([]);
  answered();
  await vi.advanceTimersByTimeAsync(1);
  expect(steps).toEqual([]);
  await vi.advanceTimersByTimeAsync(5);
  expect(steps).toEqual(['count']);
});

test('notes are counted before anything is shown', async () => {
  const { rightOfWay, steps, step } = started();
  const answered = rightOfWay.answering();
  step('show', rightOfWay.toShow());
  step('count', rightOfWay.toCount());
  rightOfWay.counting(true);
  answered();
  await vi.advanceTimersByTimeAsync(20);
  expect(steps).toEqual(['count']);
  rightOfWay.counting(false);
  await vi.advanceTimersByTimeAsync(20);
  expect(steps).toEqual(['count', 'show']);
});

test('requests that never cease still let one step through now and then, of either kind in turn', async () => {
  const { rightOfWay, steps, step } = started();
  rightOfWay.answering();
  for (const turn of [1, 2, 3]) {
    step(`count ${turn}`, rightOfWay.toCount());
    step(`show ${turn}`, rightOfWay.toShow());
  }
  await vi.advanceTimersByTimeAsync(900);
  expect(steps).toEqual([]);
  await vi.advanceTimersByTimeAsync(150);
  expect(steps).toEqual(['count 1']);
  await vi.advanceTimersByTimeAsync(3100);
  expect(steps).toEqual(['count 1', 'show 1', 'count 2', 'show 2']);
  await vi.advanceTimersByTimeAsync(3000);
  expect(steps).toHaveLength(6);
});

test('an answer that is reported twice counts once', async () => {
  const { rightOfWay, steps, step } = started();
  const first = rightOfWay.answering();
  rightOfWay.answering();
  first();
  first();
  step('count', rightOfWay.toCount());
  await vi.advanceTimersByTimeAsync(100);
  expect(steps).toEqual([]);
});

import { expect, it } from 'vitest';
import { inOrder } from '../../src/local/page/api.js';

it('drops an answer that a newer one has overtaken', async () => {
  let answerFirst: (words: string) => void = () => undefined;
  const slow = new Promise<string>((resolve) => {
    answerFirst = resolve;
  });
  const first = inOrder(
    'views',
    slow.then((body) => ({ ok: true, body })),
  );
  const second = inOrder('views', Promise.resolve({ ok: true, body: 'closed' }));
  expect(await second).toEqual({ ok: true, body: 'closed' });
  answerFirst('open');
  expect(await first).toBe(null);
  expect(await inOrder('views', Promise.resolve({ ok: true, body: 'opened again' }))).toEqual({
    ok: true,
    body: 'opened again',
  });
});

it('keeps different questions apart', async () => {
  const views = inOrder('a', Promise.resolve({ ok: true, body: 1 }));
  const home = inOrder('b', Promise.resolve({ ok: true, body: 2 }));
  expect([await views, await home]).toEqual([
    { ok: true, body: 1 },
    { ok: true, body: 2 },
  ]);
});

import { afterEach, expect, test } from 'vitest';
import type { Notice } from '../../../src/kit/notice.js';
import { checkMessage } from '../../../src/local/block-kit/check-message.js';
import { checkView } from '../../../src/local/block-kit/check-view.js';
import { BRAM, type House, house, INES, NOOR } from './ask-house.js';

let shop: House | undefined;
afterEach(async () => shop?.close());

const LONG = (first: string) => `${first} ${'Ä<&>*_~`@here-é'.repeat(9)}`.slice(0, 80);

function problems(notices: readonly Notice[]) {
  return notices.flatMap((notice) =>
    notice.kind === 'message' && notice.message !== null
      ? checkMessage({ text: notice.message.text, blocks: [...notice.message.blocks] }).map((problem) => ({
          key: notice.key,
          problem,
        }))
      : [],
  );
}

test('every message and form about asks stays within Slack’s limits, with 12 cups, 7 tables and long names', async () => {
  shop = await house('2026-11-24T09:00:00Z');
  for (const table of ['coffee', 'recipe'] as const) {
    for (const { id } of await shop.db.selectFrom(table).select('id').execute()) {
      await shop.db
        .updateTable(table)
        .set({ name: LONG(`${table}${id}`) })
        .where('id', '=', id)
        .execute();
    }
  }
  const other = await shop.addCoffee(LONG('stand-in'), 'base');
  await shop.putOnShelf(other, 50_000_000, '2026-11-24');
  const ratios = Array.from({ length: 8 }, (_, index) => [index + 2, index + 1, 1]);
  for (let table = 0; table < 7; table += 1) {
    await shop.book(
      `2026-12-04T${10 + (table % 8)}:00:00Z`,
      table % 2 === 0 ? INES : `U0HOST${table}`,
      ratios,
    );
  }
  const subjects = async () => {
    const asks = await shop?.asks();
    const tables = Array.from({ length: 8 }, (_, index) => `ask:tasting-${index + 1}`);
    return [...(asks ?? []).map((ask) => `ask:${ask.id}`), ...tables];
  };
  const check = async () => {
    let seen = 0;
    for (const subject of await subjects()) {
      const notices = (await shop?.notices(subject)) ?? [];
      seen += notices.length;
      expect(problems(notices)).toEqual([]);
    }
    return seen;
  };
  expect(await check()).toBeGreaterThan(7);
  const because = 'ö*'.repeat(150);
  await shop.submit('ask.offer', { ask: 1 }, { day: 'other', other: '2026-12-08' }, BRAM);
  await check();
  await shop.submit('ask.decline', { ask: 1 }, { because }, BRAM);
  await check();
  await shop.tap('ask.withdraw', { ask: 2 }, INES);
  await check();
  // Too soon for every coffee: all of them are stuck at once.
  await shop.db.updateTable('lot').set({ mg: 0, emptied_at: '2026-11-24T09:00:00.000Z' }).execute();
  await shop.book('2026-11-25T14:00:00Z', NOOR, ratios);
  await check();
  const list = (await shop.type('', INES)).message;
  expect(checkMessage({ text: list?.text ?? '', blocks: [...(list?.blocks ?? [])] })).toEqual([]);
  const open = (await shop.asks()).find((ask) => ask.state === 'asked');
  const forms = [
    (await shop.type('nothing known by this name 400g', INES)).form,
    (await shop.tap('ask.offer', { ask: open?.id }, BRAM)).form,
    (await shop.tap('ask.decline', { ask: open?.id }, BRAM)).form,
    (await shop.tap('ask.roasted', { ask: open?.id }, BRAM)).form,
  ];
  expect(forms.map((form) => checkView(form))).toEqual([[], [], [], []]);
});

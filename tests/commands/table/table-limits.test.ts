import { afterEach, expect, test } from 'vitest';
import { digest } from '../../../src/commands/deciding/digest.js';
import { pour } from '../../../src/commands/pouring/pour.js';
import { noticesOfTasting } from '../../../src/commands/table/notices-of.js';
import { table } from '../../../src/commands/table/table.js';
import { drawSheet } from '../../../src/kit/pdf/draw-sheet.js';
import { checkMessage } from '../../../src/local/block-kit/check-message.js';
import { latestPrint } from '../../../src/store/tasting-records.js';
import { pdfPages } from '../../kit/pdf/read-pdf.js';
import { playFeature, textsOf } from '../common/play-feature.js';
import { type House, house, INES, WORKSPACE } from '../roasting/ask-house.js';

let shop: House;
afterEach(() => shop.close());

const LONG = (first: string) => `${first} ${'Ä<&>*_~`@here-é'.repeat(9)}`.slice(0, 80);

/** Harbour Lamp as large as a table gets: twelve cups, forty tasters, every name as long as it may be. */
async function largeTable(): Promise<void> {
  shop = await house('2026-11-24T09:00:00Z');
  for (const name of ['coffee', 'recipe'] as const) {
    for (const { id } of await shop.db.selectFrom(name).select('id').execute()) {
      await shop.db
        .updateTable(name)
        .set({ name: LONG(`${name}${id}`) })
        .where('id', '=', id)
        .execute();
    }
  }
  const ratios = Array.from({ length: 8 }, (_, index) => [index + 2, index + 1, 1]);
  await shop.book('2026-12-04T14:00:00Z', INES, ratios, 3);
  const people = Array.from({ length: 37 }, (_, index) => ({
    tasting_id: 1,
    person: `U0GUEST${index + 100}`,
  }));
  await shop.db.insertInto('invited').values(people).execute();
  shop.setTime('2026-12-04T13:50:00Z');
}

async function noticeProblems() {
  const notices = await noticesOfTasting(shop.deps(), WORKSPACE, 1);
  return notices.flatMap((notice) =>
    notice.kind === 'message' && notice.message !== null
      ? checkMessage({ text: notice.message.text, blocks: [...notice.message.blocks] }).map((problem) => ({
          key: notice.key,
          problem,
        }))
      : [],
  );
}

// playFeature holds every message and form it is answered against Slack's limits, and throws when one is over.
test('the sheet, its pages and everything under the digest stay within Slack’s limits', async () => {
  await largeTable();
  const tables = playFeature(table, shop.deps(), INES);
  const sheet = await tables.type('T1');
  for (const page of ['Clock times', 'Who tastes in which order', 'What to set out', 'Totals']) {
    const { form } = await tables.tap(sheet, page);
    expect(form?.blocks.length).toBeGreaterThan(1);
  }
  expect(textsOf(await tables.tap(sheet, 'Print it (PDF)'))).toContain('in the thread of');
  expect(textsOf(await tables.tap(sheet, 'Print it (PDF)'))).toContain('Nothing on the sheet has changed');
  expect(await noticeProblems()).toEqual([]);
  expect(textsOf(await tables.type('T1 open'))).toContain('Opened although not all was ready');
  const pours = playFeature(pour, shop.deps(), INES);
  for (const ratio of ['97:1:1', '1:97:2', '31:37:41'])
    expect(textsOf(await pours.type(`T1 ${ratio}`))).toContain('spoon');
  expect(await noticeProblems()).toEqual([]);
  await tables.type('T1 close');
  const decided = playFeature(digest, shop.deps(), INES);
  await decided.type('T1 12 kg');
  await shop.db.updateTable('tasting').set({ winner_cup_id: 4 }).execute();
  expect(await noticeProblems()).toEqual([]);
  for (let index = 0; index < 5; index += 1) {
    const id = await shop.addCoffee(LONG(`other${index}`), 'base');
    await shop.putOnShelf(id, 5_000_000, '2026-12-03');
  }
  const runsOut = await decided.act('table.runsout', JSON.stringify({ tasting: 1 }));
  expect(JSON.stringify(runsOut.form)).toContain('other0');
  const roasted = await decided.act('table.roasted', JSON.stringify({ recipe: 1, tasting: 1 }));
  const said = await decided.submit(roasted, { green: '10 kg', roasted: '8.5 kg' });
  expect(textsOf(said)).toContain('15 % loss');
  const margin = await decided.act('table.margin', JSON.stringify({ tasting: 1 }));
  expect(textsOf(await decided.submit(margin, { price: '99.99' }))).toContain('of the price');
  expect(textsOf(await decided.act('table.sign', JSON.stringify({ tasting: 1 })))).toContain('Signed off');
  expect(await noticeProblems()).toEqual([]);
});

test('its PDF holds everything, the orders on a page of their own', async () => {
  await largeTable();
  const tables = playFeature(table, shop.deps(), INES);
  await tables.type('T1 print');
  const print = await latestPrint(shop.db, 1);
  const pages = pdfPages(await drawSheet(print?.content, async (person) => `Guest ${person.slice(-3)}`));
  expect(pages).toHaveLength(3);
  for (let guest = 100; guest < 137; guest += 1) expect(pages[1]).toContain(`Guest ${guest}`);
  expect(pages[1]).toContain('Table 3');
  expect(pages[0]).toContain('trained people come first');
  expect(pages[2]).toContain('With repeats and spare');
}, 60_000);

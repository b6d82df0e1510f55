import fc from 'fast-check';
import { afterEach, expect, test } from 'vitest';
import { createBot } from '../../../src/app/create-bot.js';
import { seedScenario } from '../../../src/app/seed.js';
import { requireTable } from '../../../src/commands/common/load-table.js';
import { loadResult } from '../../../src/commands/common/table-notes.js';
import { systemClock } from '../../../src/runtime/clock.js';
import { createLog } from '../../../src/runtime/log.js';
import { type OpenDatabase, openDatabase } from '../../../src/store/sqlite/open.js';
import { receivedFrom } from '../../slack/support/received.js';
import { standTableCard } from '../../store/support/standing-card.js';

let open: OpenDatabase | undefined;
afterEach(async () => open?.close());

const THREAD = '100.000001';
const TEXTS = [
  'C: lemon, black tea',
  'C: no lemon, heavy body',
  'D: blueberry 4/5, E: maybe blueberry',
  'D > E > F',
  'E > D, worst: F',
  'best: F',
  'D: 7/9, E: 8/9',
  'who has the kettle?',
];

type Message = {
  readonly user: string;
  /** the words as written, then as each edit left them */
  readonly versions: readonly string[];
  readonly deleted: boolean;
};

const messages = fc.array(
  fc.record<Message>({
    user: fc.constantFrom('U2', 'U3', 'U4'),
    versions: fc.array(fc.constantFrom(...TEXTS), { minLength: 1, maxLength: 3 }),
    deleted: fc.boolean(),
  }),
  { minLength: 2, maxLength: 6 },
);

function two(number: number): string {
  return String(number).padStart(2, '0');
}

/** Everything Slack tells of one message: written, edited, deleted. */
function eventsOf({ user, versions, deleted }: Message, index: number): readonly object[] {
  const ts = `2${two(index)}.000001`;
  const place = { type: 'message', channel: 'C1', channel_type: 'channel' };
  const said = (text: string) => ({ user, text, ts, thread_ts: THREAD });
  const [first = '', ...edits] = versions;
  const edited = edits.map((text, edit) => {
    const before = said(versions[edit] ?? '');
    const at = `3${two(index)}.00000${edit + 1}`;
    const message = { ...said(text), edited: { user, ts: at } };
    return { ...place, subtype: 'message_changed', ts: at, message, previous_message: before };
  });
  const gone = { ...place, subtype: 'message_deleted', ts: `4${two(index)}.000001`, deleted_ts: ts };
  return [
    { ...place, ...said(first) },
    ...edited,
    ...(deleted ? [{ ...gone, previous_message: said(first) }] : []),
  ];
}

/** Tallies, placings and verdict of a table that was told these events in this order. */
async function resultOf(events: readonly object[]) {
  await open?.close();
  open = await openDatabase(':memory:');
  const { db } = open;
  const deps = { db, clock: systemClock, log: createLog('silent'), newSeed: () => 7 };
  const bot = createBot();
  await seedScenario(deps, 'T1', new Map([['ines', 'U1']]), 'C1');
  const who = { workspace: 'T1', person: 'U1' };
  for (const words of ['book "Harbour Lamp" tomorrow 14:00 ratios 50/30/20 2:1:1 1:1:1', 'table T1 open']) {
    await bot.typed(deps, { who, channel: 'C1', threadTs: null, words, by: 'slash' });
  }
  await standTableCard(db, THREAD);
  for (const event of events) {
    const told = receivedFrom(event);
    if (told && (await bot.concerns(deps, told))) await bot.received(deps, told);
  }
  const { tally, decision, tasters } = await loadResult(db, 'T1', await requireTable(db, 'T1', 1));
  return { tally, decision, tasters };
}

test('notes, edits and deletes in any order come to the same tally and verdict', async () => {
  const cases = messages.chain((said) => {
    const events = said.flatMap(eventsOf);
    return fc.tuple(fc.constant(events), fc.shuffledSubarray(events, { minLength: events.length }));
  });
  await fc.assert(
    fc.asyncProperty(cases, async ([told, shuffled]) => {
      const expected = await resultOf(told);
      expect(await resultOf(shuffled)).toEqual(expected);
    }),
    { numRuns: 25 },
  );
});

test('what is told is what the last edits say, without what was deleted', async () => {
  const plain = (user: string, ...versions: string[]) => ({ user, versions, deleted: false });
  const said = [
    plain('U2', 'C: lemon', 'C: no lemon'),
    { ...plain('U3', 'C: lemon'), deleted: true },
    plain('U4', 'C: black tea', 'C: lemon'),
  ];
  const left = [plain('U2', 'C: no lemon'), plain('U4', 'C: lemon')];
  const { tally, tasters } = await resultOf(said.flatMap(eventsOf).toReversed());
  expect(tasters).toBe(2);
  expect(tally).toEqual((await resultOf(left.flatMap(eventsOf))).tally);
});

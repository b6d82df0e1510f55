import { sql } from 'kysely';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { forger } from './forge.js';
import type { StoryHouse } from './start-house.js';
import { card, one, openTable, startStory, wordsOf } from './tell.js';

/* The day a table of the database breaks: whoever sees an error gets a reference, and the log has it. */

let house: StoryHouse;
const lines: string[] = [];
beforeAll(async () => {
  house = await startStory({ onLog: (line) => lines.push(line) });
  const table = await openTable(house);
  await house.as('teo').say('lemony and bright', table.ts);
  await house.as('teo').command('/spoon note T1');
  await sql`alter table reading rename to reading_gone`.execute(house.bot.deps.db);
}, 60_000);
afterAll(() => house.stop());

const REFERENCE = /tell whoever looks after me this reference: ([A-Z0-9]{6})\./;

/** The log lines that this reference finds. */
function found(text: string): readonly string[] {
  const reference = REFERENCE.exec(text)?.[1];
  expect([text, reference]).toEqual([text, expect.stringMatching(/^[A-Z0-9]{6}$/)]);
  return lines.filter((line) => line.includes(`"reference":"${reference}"`));
}
const reason = expect.stringContaining('no such table: reading');

test('a command that breaks is an apology whose reference finds its reason in the log', async () => {
  const answer = await house.as('noor').command('/spoon note T1 C: strawberry');
  expect(found(answer.response?.text ?? '')).toEqual([reason]);
});

test('a button that breaks is one as well, for whoever tapped it alone', async () => {
  const [seen] = await forger(house).tap(['teo'], 'note.cup', { note: 1, cup: 2 });
  expect(found(seen?.heard ?? '')).toEqual([reason]);
  expect(seen).toMatchObject({ status: 200, loud: [], changed: false });
});

test('a form that breaks stays open with what was written, and says the reference beside a field', async () => {
  const answer = await house.as('teo').submit({ text: 'C: raspberry' });
  expect(answer.closed).toBe(false);
  expect(found(JSON.stringify(answer.errors))).toEqual([reason]);
});

test('a message that cannot be read is logged under its event, kept, and counted once it can be', async () => {
  const table = await card(house, 'T1 ·');
  const before = lines.length;
  await house.client.say({
    as: house.id('mika'),
    channel: house.channel,
    thread: table.ts,
    text: 'C: blueberry',
  });
  await expect
    .poll(() => lines.slice(before).filter((line) => line.includes('an event failed')).length)
    .toBeGreaterThan(0);
  const failed = lines.slice(before).filter((line) => line.includes('an event failed'));
  expect(failed[0]).toMatch(/"eventId":"Ev/);
  await sql`alter table reading_gone rename to reading`.execute(house.bot.deps.db);
  await house.advance(60_000);
  await house.as('ines').say('@Tallyspoon tally', table.ts);
  expect(wordsOf(one(await house.as('ines').thread(table.ts), 'Tally T1'))).toContain('blueberry 1 of 1');
});

test('no reason in the log repeats what somebody wrote', () => {
  expect(lines.filter((line) => /strawberry|raspberry|blueberry|lemony/.test(line))).toEqual([]);
});

import fc from 'fast-check';
import { sql } from 'kysely';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { createBot } from '../../src/app/create-bot.js';
import { mrkdwn, plain, shorten } from '../../src/kit/escape.js';
import { UserError } from '../../src/runtime/errors.js';
import { messageFor, plainSentence } from '../../src/slack/out/error-messages.js';
import { DOORS, everyField, everyId, goThrough, undone } from '../stories/every-door.js';
import type { StoryHouse } from '../stories/start-house.js';
import { card, openTable, startStory } from '../stories/tell.js';
import { unsafeIn } from './unsafe.js';

const NASTY = [
  '<!channel>',
  '<!here|here>',
  '<@UEVIL99>',
  '<#CEVIL99|general>',
  '<http://evil.example|Harbour Lamp>',
  '<javascript:alert(1)|x>',
  '<!date^1^{date}^http://evil.example|today>',
  '@here @channel @everyone',
  '*bold* _slanted_ ~gone~ `code`',
  '&lt;!channel&gt; &amp;lt;',
  '\u202enotsalb\u202c \u200b\u200e\ufeff',
  '@\u200bhere <\u200b!channel>',
  '=HYPERLINK("http://evil.example")',
  '../../etc/passwd',
  '"quoted" “curly” \\ \n\t new line',
];
const piece = fc.oneof(fc.constantFrom(...NASTY), fc.string({ maxLength: 8, unit: 'grapheme' }));
/** Two or three nasty pieces run together, as long as a name may be. */
const name = fc.array(piece, { minLength: 1, maxLength: 3 }).map((pieces) => pieces.join('').slice(0, 78));

test('text from people never calls, links or hides, whatever it holds', () => {
  fc.assert(
    fc.property(name, (text) => {
      expect(unsafeIn({ type: 'mrkdwn', text: mrkdwn(text), verbatim: true })).toEqual([]);
      expect(unsafeIn({ type: 'plain_text', text: plain(text) })).toEqual([]);
    }),
    { numRuns: 500 },
  );
});

test('what is harmless is shown as it was written', () => {
  for (const text of ['Kayanza Hill', 'Café Nº 7 (2nd lot)', '日本 № 4', 'فجر', '👩🏽‍🌾 lot', 'a & b'])
    expect(mrkdwn(text).replaceAll('&amp;', '&').replaceAll('\u2060', '')).toBe(text);
});

test('what was cut short is still escaped', () => {
  fc.assert(
    fc.property(name, fc.integer({ min: 1, max: 60 }), (text, length) => {
      expect(unsafeIn({ type: 'mrkdwn', text: shorten(mrkdwn(text), length), verbatim: true })).toEqual([]);
    }),
  );
});

let house: StoryHouse;
beforeAll(async () => {
  house = await startStory();
  const table = await openTable(house);
  for (const who of ['noor', 'teo', 'mika']) await house.as(who).say('C: strawberry. E > D > F', table.ts);
  await house.as('teo').say('lemony <!channel> @here quibblefig', table.ts);
  await house.as('ines').command('/spoon ask "Kayanza Hill" 300g by 20 nov');
  await house.as('ines').command('/spoon words quibblefig = cane sugar');
  await house.as('ines').command('/spoon digest T1 12 kg');
  await house.as('noor').command('/spoon book "Harbour Lamp" 20 nov 14:00 ratios 3:2:1 with @teo blind');
  await card(house, 'Digest T1');
}, 60_000);
afterAll(() => house.stop());

test('no message, form or notice of the bot holds a call or a link that we did not write', async () => {
  const { deps, workspace } = house.bot;
  const bot = createBot();
  const faults = new Set<string>();
  const look = (where: string, payload: unknown) => {
    for (const fault of unsafeIn(payload)) faults.add(`${where} ${fault}`);
  };
  await fc.assert(
    fc.asyncProperty(name, async (text) => {
      await undone(deps, async (inside) => {
        for (const [table, column] of [
          ['coffee', 'name'],
          ['coffee', 'origin'],
          ['coffee', 'remarks'],
          ['coffee', 'flavour_added'],
          ['recipe', 'name'],
          ['recipe_version', 'why'],
          ['tasting', 'brief'],
          ['note', 'text'],
          ['house_word', 'words'],
        ] as const)
          await sql`update ${sql.table(table)} set ${sql.ref(column)} = ${text} || (case when ${sql.lit(table === 'coffee' || table === 'recipe')} then rowid else '' end)`.execute(
            inside.db,
          );
        for (const subject of [
          'tasting:1',
          'tasting:2',
          'note:1',
          'note:4',
          'ask:1',
          'ask:2',
          `person:${house.id('ines')}`,
          `person:${house.id('teo')}`,
        ])
          look(subject, await bot.notices(inside, workspace, subject));
      });
      await undone(deps, async (inside) => {
        await sql`update coffee set name = ${text} || id, origin = ${text}`.execute(inside.db);
        await sql`update recipe set name = ${text} || id`.execute(inside.db);
        for (const door of DOORS) {
          const who = { workspace, person: house.id(door.name.startsWith('note') ? 'teo' : 'ines') };
          const fields = new Map([
            ...everyField(1),
            ['name', text],
            ['text', text],
            ['words', text],
            ['remarks', text],
            ['because', text],
            ['brief', text],
            ['ratio', text],
          ] as const);
          for (const value of door.how === 'tap' ? [everyId(1), everyId(2), '1'] : [everyId(1)])
            await undoneInside(inside, async () => {
              const answer = await goThrough(inside, who, door, value, fields);
              if (answer instanceof UserError) {
                look(`${door.how} ${door.name}`, messageFor(answer));
                look(`${door.how} ${door.name}`, { type: 'plain_text', text: plainSentence(answer) });
              } else look(`${door.how} ${door.name}`, answer);
            });
        }
        for (const verb of [
          'book',
          'recipe',
          'shelf',
          'shelf add',
          'recipe add',
          'ask',
          'words',
          'house',
          'note T1',
          'pour T1',
          'table T1',
          'table',
          '',
        ]) {
          const who = { workspace, person: house.id('ines') };
          const answer = await goThrough(
            inside,
            who,
            { how: 'type', name: `${verb} ${text}` },
            '',
            new Map(),
          );
          look(`type ${verb}`, answer instanceof UserError ? messageFor(answer) : answer);
        }
      });
    }),
    { numRuns: 18, seed: 3, examples: NASTY.map((one): [string] => [one]) },
  );
  const kinds = new Map([...faults].map((fault) => [fault.split(': ')[0], fault]));
  expect([...kinds.values()].slice(0, 40)).toEqual([]);
}, 120_000);

async function undoneInside(inside: StoryHouse['bot']['deps'], work: () => Promise<void>): Promise<void> {
  await sql`savepoint door`.execute(inside.db);
  await work();
  await sql`rollback to door`.execute(inside.db);
  await sql`release door`.execute(inside.db);
}

test('words that need no tidying are shown as the others are once they are tidied', () => {
  const texts = fc.oneof(fc.string(), fc.string({ unit: 'grapheme' }), fc.string({ unit: 'binary' }));
  fc.assert(
    fc.property(texts, (text) => {
      expect(mrkdwn(text)).toBe(mrkdwn(`\u200b ${text} \u200b`));
      expect(plain(text)).toBe(plain(`\u200b ${text} \u200b`));
    }),
  );
});

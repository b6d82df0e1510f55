import { afterEach, beforeEach, expect, test } from 'vitest';
import { listAskChanges, listLotsOfAsks, listRefusedDays, updateAsk } from '../../src/store/asks.js';
import { findCoffee, updateCoffee } from '../../src/store/coffees.js';
import { coffeeProfiles, dropCups, lastCodes, swapCoffee } from '../../src/store/cups.js';
import { loadHouse } from '../../src/store/house.js';
import { findGoneNote, freeFormTs, listWithoutCup, threadOfNote } from '../../src/store/notes.js';
import { findPicture, isCardInFlight, stepNotice, stoppedOf } from '../../src/store/notices.js';
import { besideKeys, eraseOwnData } from '../../src/store/own-data.js';
import { fireReminder } from '../../src/store/reminders.js';
import { listGroupRoasts, listRoastsAlone } from '../../src/store/roasts.js';
import type { OpenDatabase } from '../../src/store/sqlite/open.js';
import { findExport } from '../../src/store/tasting-records.js';
import { AT, amount, type Look, OTHER, OWN, openStoredStory, rowsButOthers } from './support/stored-story.js';

/*
 * As `workspaces.test.ts`, for what the stored story has none of: a row is planted first, found in its own
 * workspace, and neither found nor changed from another.
 */

let open: OpenDatabase;
beforeEach(async () => {
  open = await openStoredStory();
});
afterEach(() => open.close());

const FOUND: Readonly<Record<string, readonly [planted: string, look: Look]>> = {
  'an ask’s history': ['', (workspace) => listAskChanges(open.db, workspace, 1)],
  'a day the roaster declined': [
    "update ask set state = 'declined' where id = 1",
    (workspace) => listRefusedDays(open.db, workspace, 1),
  ],
  'a day a person took back': [
    `insert into ask_change (workspace, ask_id, at, who, from_state, to_state, detail_json) values ('${OWN}', 1,
       '2026-11-26T10:00:00.000Z', 'U1INES', 'asked', 'asked', '{"what":"left","tasting":3,"day":"2026-12-08"}')`,
    (workspace) => listRefusedDays(open.db, workspace, 1),
  ],
  'what coffees alone were said to taste of': ['', (workspace) => coffeeProfiles(open.db, workspace)],
  'an export': [
    `insert into tasting_change (id, workspace, tasting_id, at, who, change, detail_json)
       values (900, '${OWN}', 1, '2026-11-26T10:00:00.000Z', 'U1INES', 'exported', '{"to":"host"}')`,
    (workspace) => findExport(open.db, workspace, 900),
  ],
  'roasts of a group': [
    `insert into roast (workspace, coffee_id, recipe_id, roast_group, green_mg, roasted_mg, roasted_on, created_at,
       created_by) values ('${OWN}', 1, 1, 'together', 2000, 1700, '2026-11-25', '2026-11-25T10:00:00Z', 'U9BRAM')`,
    (workspace) => listGroupRoasts(open.db, workspace, 1),
  ],
  'roasts of a coffee alone': [
    `insert into roast (workspace, coffee_id, green_mg, roasted_mg, roasted_on, created_at, created_by)
       values ('${OWN}', 1, 2000, 1700, '2026-11-25', '2026-11-25T10:00:00Z', 'U9BRAM')`,
    (workspace) => listRoastsAlone(open.db, workspace, 1),
  ],
  'a picture': [
    "update picture set hash = 'the tally' where hash = (select min(hash) from picture)",
    (workspace) => findPicture(open.db, workspace, 'the tally'),
  ],
  'a note that was taken back': [
    "update note set deleted_at = '2026-11-26T10:00:00.000Z', source = 'thread' where id = 1",
    (workspace) => findGoneNote(open.db, workspace, 1),
  ],
  'a note’s thread': [
    "update note set channel = 'C1', ts = '5.000001', thread_ts = '1.000001', deleted_at = null where id = 1",
    (workspace) => threadOfNote(open.db, { workspace, channel: 'C1', ts: '5.000001' }),
  ],
  'a note without a cup': [
    `update tasting set state = 'open' where id = 1; update note set person = 'U2NOOR', deleted_at = null where id = 1;
     update reading set needs_cup = 1 where note_id = 1`,
    (workspace) => listWithoutCup(open.db, workspace, 'U2NOOR'),
  ],
  'codes of a blind table': [
    "update cup set code = '417' where id = 12",
    (workspace) => lastCodes(open.db, workspace),
  ],
  'a notice that was given up': [
    "update notice set state = 'stopped' where key = 'table:1'",
    async (workspace) => (await stoppedOf(open.db, workspace, 'tasting:1', 'stopped:1')).stopped,
  ],
  'a card that is being posted': [
    `update notice set state = 'posting', ts = null, channel = 'C1', posting_since = '2026-11-25T10:00:00.000Z'
       where key = 'table:1'`,
    (workspace) => isCardInFlight(open.db, workspace, 'C1', '1795613302.000001'),
  ],
  'what is said to somebody beside the table': [
    "update notice set key = 'beside:1:U2NOOR' where key = 'home:U1INES'",
    (workspace) => besideKeys(open.db, { workspace, person: 'U2NOOR' }),
  ],
  'a lot that an ask filled': [
    `insert into roast (id, workspace, coffee_id, green_mg, roasted_mg, roasted_on, created_at, created_by)
       values (900, '${OWN}', 1, 2000, 1700, '2026-11-25', '2026-11-25T10:00:00Z', 'U9BRAM');
     update ask set roast_id = 900 where id = 1; update lot set roast_id = 900, emptied_at = null where id = 1`,
    (workspace) => listLotsOfAsks(open.db, workspace),
  ],
};

test.each(Object.entries(FOUND))(
  '%s: found in its own workspace, not from another',
  async (_what, [sql, look]) => {
    open.sqlite.exec(sql);
    expect(amount(await look(OWN))).toBeGreaterThan(0);
    expect(amount(await look(OTHER))).toBe(0);
  },
);

const DONE: Readonly<Record<string, readonly [planted: string, change: Look]>> = {
  'taking a cup off': ['', (workspace) => dropCups(open.db, workspace, [12], AT)],
  'putting another coffee in': ['', (workspace) => swapCoffee(open.db, workspace, 3, 1, 2)],
  'changing an ask': [
    '',
    (workspace) =>
      updateAsk(
        open.db,
        workspace,
        { id: 1, state: 'asked' },
        { state: 'accepted' },
        { at: AT, who: 'U9BRAM', detail: { what: 'accepted' } },
      ),
  ],
  'changing a coffee': [
    '',
    async (workspace) => {
      const coffee = await findCoffee(open.db, OWN, 1);
      if (coffee) await updateCoffee(open.db, workspace, { ...coffee, name: 'Another Hill' });
    },
  ],
  'a step of a notice': [
    '',
    (workspace) => stepNotice(open.db, { workspace, key: 'table:3' }, { state: 'stopped' }),
  ],
  'a reminder': [
    '',
    (workspace) =>
      fireReminder(
        open.db,
        {
          workspace,
          key: 'ask 1 ask last call',
          subject: 'ask:1',
          kind: 'ask last call',
          dueAt: new Date('2026-12-09T13:00:00.000Z'),
        },
        AT,
      ),
  ],
  'erasing what waits, what was asked and what was exported': [
    `insert into inbox (workspace, event_id, kind, lane, body_json, received_at, state, attempts) values ('${OWN}',
       'EvWAITS', 'message', 'C1:1.0', '{"event":{"channel":"C1","ts":"9.000001","user":"U7PIET"}}',
       '2026-11-26T10:00:00.000Z', 'set aside', 5);
     insert into notice (workspace, key, subject, kind, place_json, wanted_json, state, attempts) values
       ('${OWN}', 'which-cup:1', 'note:1', 'private', '{}', '{"person":"U7PIET"}', 'kept', 0)`,
    (workspace) => eraseOwnData(open.db, { workspace, person: 'U7PIET' }, AT),
  ],
};

test.each(Object.entries(DONE))(
  '%s: done in its own workspace, not from another',
  async (_what, [sql, change]) => {
    open.sqlite.exec(sql);
    const before = rowsButOthers(open);
    await change(OTHER).catch(() => null);
    expect(rowsButOthers(open)).toEqual(before);
    await change(OWN);
    expect(rowsButOthers(open)).not.toEqual(before);
  },
);

test('the house of another workspace is an empty one', async () => {
  const own = await loadHouse(open.db, OWN);
  const other = await loadHouse(open.db, OTHER);
  expect(JSON.stringify(other)).not.toContain('U9BRAM');
  expect(own).not.toEqual(other);
});

test('a form’s note takes no other time because of another workspace’s notes', async () => {
  const now = new Date('2026-11-26T10:00:00.000Z');
  const first = await freeFormTs(open.db, OTHER, 'C1', now);
  open.sqlite.prepare('update note set channel = ?, ts = ? where id = 1').run('C1', first);
  expect(await freeFormTs(open.db, OTHER, 'C1', now)).toBe(first);
  expect(await freeFormTs(open.db, OWN, 'C1', now)).not.toBe(first);
});

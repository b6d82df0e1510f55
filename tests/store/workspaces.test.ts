import { afterEach, beforeEach, expect, test } from 'vitest';
import { ASK_STATES } from '../../src/domain/record/ask.js';
import { TASTING_STATES } from '../../src/domain/record/tasting.js';
import { findAsk, listAsks, listAsksFor, listLotsOfAsks } from '../../src/store/asks.js';
import { clearChanged, listChanged, markChanged } from '../../src/store/changed.js';
import { archiveCoffee, coffeesById, findCoffee, listCoffees } from '../../src/store/coffees.js';
import { lastCodes } from '../../src/store/cups.js';
import { forgetHouseWord, listHouseWords, listToldFacts } from '../../src/store/house.js';
import {
  findNote,
  findNoteByMessage,
  findTableThread,
  listWithoutCup,
  saveNote,
} from '../../src/store/notes.js';
import { findNotice, listStandingMessages, reviveNotices, stoppedOf } from '../../src/store/notices.js';
import { besideKeys, eraseOwnData, ownTables, withdrawNote } from '../../src/store/own-data.js';
import {
  archiveRecipe,
  findRecipe,
  findRecipeVersion,
  listRecipes,
  listRecipeVersions,
  renameRecipe,
} from '../../src/store/recipes.js';
import { cancelReminders, listReminderKeys } from '../../src/store/reminders.js';
import { listRoastsAlone } from '../../src/store/roasts.js';
import {
  bookedAt,
  listHeld,
  listLots,
  listReservations,
  setLotLeft,
  useReserved,
} from '../../src/store/shelf.js';
import type { OpenDatabase } from '../../src/store/sqlite/open.js';
import { listLost } from '../../src/store/tasting-records.js';
import {
  findTasting,
  findTastingByNumber,
  listTastings,
  nextTastingNumber,
} from '../../src/store/tastings.js';
import { AT, amount, type Look, OTHER, OWN, openStoredStory, rowsButOthers } from './support/stored-story.js';

/* A stored tasting of one workspace, asked for with every id of it by another: nothing is found, nothing changes. */

let open: OpenDatabase;
let note: { readonly channel: string; readonly ts: string; readonly person: string };
let card: { readonly channel: string; readonly ts: string };
beforeEach(async () => {
  open = await openStoredStory();
  const { db } = open;
  note = await db
    .selectFrom('note')
    .select(['channel', 'ts', 'person'])
    .where('deleted_at', 'is', null)
    .executeTakeFirstOrThrow();
  const { channel, ts } = await db
    .selectFrom('notice')
    .select(['channel', 'ts'])
    .where('key', '=', 'table:1')
    .executeTakeFirstOrThrow();
  card = { channel: channel ?? '', ts: ts ?? '' };
  // What the story leaves undone: something held and lost, blind codes, a note without cup, a reminder that fired.
  await db.updateTable('cup').set({ code: '417' }).where('id', '=', 1).execute();
  await db.updateTable('note').set({ home_cup_id: null, chosen_cup_id: null }).where('id', '=', 1).execute();
  await db
    .updateTable('reminder')
    .set({ fired_at: AT.toISOString() })
    .where('subject', '=', 'tasting:1')
    .execute();
});
afterEach(() => open.close());

const LOOKS: Readonly<Record<string, Look>> = {
  'a tasting by id': (workspace) => findTasting(open.db, workspace, 1),
  'a tasting by number': (workspace) => findTastingByNumber(open.db, workspace, 1),
  tastings: (workspace) => listTastings(open.db, workspace, TASTING_STATES),
  'numbers given out': async (workspace) => (await nextTastingNumber(open.db, workspace)) > 1,
  'codes used': (workspace) => lastCodes(open.db, workspace),
  'start times': (workspace) => bookedAt(open.db, workspace),
  'a table’s thread': (workspace) => findTableThread(open.db, { ...card, workspace }),
  'a note by id': (workspace) => findNote(open.db, workspace, 1),
  'a note by its message': (workspace) => findNoteByMessage(open.db, { ...note, workspace }),
  asks: (workspace) => listAsks(open.db, workspace, ASK_STATES),
  'an ask': (workspace) => findAsk(open.db, workspace, 1),
  'asks for a table': (workspace) => listAsksFor(open.db, workspace, 3),
  coffees: (workspace) => listCoffees(open.db, workspace),
  'a coffee': (workspace) => findCoffee(open.db, workspace, 1),
  'coffees by id': (workspace) => coffeesById(open.db, workspace, [1, 2, 3]),
  recipes: (workspace) => listRecipes(open.db, workspace),
  'a recipe': (workspace) => findRecipe(open.db, workspace, 1),
  'a recipe’s version': (workspace) => findRecipeVersion(open.db, workspace, 1),
  'a recipe’s versions': (workspace) => listRecipeVersions(open.db, workspace, 1),
  'facts of the house': (workspace) => listToldFacts(open.db, workspace),
  'words of the house': (workspace) => listHouseWords(open.db, workspace),
  lots: (workspace) => listLots(open.db, workspace),
  'own tables': (workspace) => ownTables(open.db, { workspace, person: note.person }),
  'a notice': (workspace) => findNotice(open.db, workspace, 'table:1'),
  'standing messages': (workspace) => listStandingMessages(open.db, workspace, new Date(0)),
  reminders: (workspace) => listReminderKeys(open.db, workspace, 'tasting:2'),
  'fired reminders': (workspace) => listReminderKeys(open.db, workspace, 'tasting:1', 'fired'),
};

test.each(Object.entries(LOOKS))(
  '%s: found in their own workspace, not from another',
  async (_what, look) => {
    expect(amount(await look(OWN))).toBeGreaterThan(0);
    expect(amount(await look(OTHER))).toBe(0);
  },
);

/** What the story leaves empty may be looked for, and is not found either. */
const EMPTY: Readonly<Record<string, Look>> = {
  'lots of asks': (workspace) => listLotsOfAsks(open.db, workspace),
  'what is held': (workspace) => listHeld(open.db, workspace),
  reservations: (workspace) => listReservations(open.db, workspace),
  'what was lost': (workspace) => listLost(open.db, workspace, 1),
  'notes without a cup': (workspace) => listWithoutCup(open.db, workspace, note.person),
  roasts: (workspace) => listRoastsAlone(open.db, workspace, 1),
  'what was said beside the table': (workspace) => besideKeys(open.db, { workspace, person: note.person }),
};

test.each(Object.entries(EMPTY))('%s: not found from another workspace', async (_what, look) => {
  expect(amount(await look(OTHER))).toBe(0);
});

const CHANGES: Readonly<Record<string, Look>> = {
  'taking a note back': (workspace) => withdrawNote(open.db, { ...note, workspace }, AT),
  'erasing somebody': (workspace) => eraseOwnData(open.db, { workspace, person: note.person }, AT),
  'archiving a coffee': (workspace) => archiveCoffee(open.db, workspace, 1, AT),
  'renaming a recipe': (workspace) => renameRecipe(open.db, workspace, 1, 'Another'),
  'archiving a recipe': (workspace) => archiveRecipe(open.db, workspace, 1, AT),
  'forgetting a word': (workspace) => forgetHouseWord(open.db, workspace, 'harbour fog'),
  'using up a lot': (workspace) => setLotLeft(open.db, workspace, 1, 0, AT),
  'giving up reminders': (workspace) => cancelReminders(open.db, workspace, 'tasting:2', AT),
  'having notices shown again': (workspace) => reviveNotices(open.db, workspace, card.channel),
  'taking what a table held': (workspace) => useReserved(open.db, workspace, 2, new Map([[2, 1000]]), AT),
  'clearing what changed': async (workspace) => {
    const [changed] = await listChanged(open.db, 1);
    if (changed) await clearChanged(open.db, { ...changed, workspace });
  },
};

test.each(Object.entries(CHANGES))(
  '%s: done in their own workspace, not from another',
  async (_what, change) => {
    const { db } = open;
    await db.updateTable('notice').set({ state: 'stopped' }).where('key', '=', 'table:1').execute();
    await markChanged(db, OWN, 'tasting:1', AT);
    expect((await stoppedOf(db, OTHER, 'tasting:1', 'stopped:1')).stopped).toEqual([]);
    const before = rowsButOthers(open);
    // What cannot be found may be refused outright.
    await change(OTHER).catch(() => null);
    expect(rowsButOthers(open)).toEqual(before);
    await change(OWN);
    expect(rowsButOthers(open)).not.toEqual(before);
  },
);

test('a message of the same channel and time in another workspace is another note', async () => {
  const { db } = open;
  const gone = await db.selectFrom('gone_message').select(['channel', 'ts']).executeTakeFirstOrThrow();
  for (const { channel, ts } of [note, gone]) {
    const written = {
      workspace: OTHER,
      tastingId: 1,
      source: 'thread',
      channel,
      ts,
      threadTs: null,
      person: 'U0OTHER',
      homeCupId: null,
      text: 'elderflower',
      editedTs: null,
      late: false,
      at: AT,
    } as const;
    expect(await saveNote(db, written)).toMatchObject({ person: 'U0OTHER', text: 'elderflower' });
  }
  expect(await findNoteByMessage(db, { ...note, workspace: OWN })).toMatchObject({ person: note.person });
});

import { z } from 'zod';
import type { Action } from '../../domain/record/permission.js';
import { type Tasting, tastingName } from '../../domain/record/tasting.js';
import { button, buttons, say } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import { UserError } from '../../runtime/errors.js';
import { inTransaction } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import { countLateNotes } from '../../store/notes.js';
import { findTasting } from '../../store/tastings.js';
import { type Answer, type Deps, type Feature, subjectId } from '../common/bot.js';
import { changeTasting } from '../common/change-tasting.js';
import { OfTasting, readValue, type Tap, type Typed, tastingOf, type Who } from '../common/intake.js';
import { loadTable, requireTable, requireTableAt, whichTasting } from '../common/load-table.js';
import { requireMay, standingOf } from '../common/standing.js';
import { loadReadiness } from '../planning/load-plan.js';
import { planTableRoasts, useTableCoffee } from '../planning/plan-roasts.js';
import { noticesOfTasting } from './notices-of.js';
import { loadSheet, printSheet, printTap } from './sheet.js';
import { SHEET_PAGES, sheetPageView, tableSheetMessage } from './table-sheet-messages.js';

const PageValue = OfTasting.extend({ page: z.enum(SHEET_PAGES) });

export const table: Feature = {
  verb: {
    name: 'table',
    does: 'the table sheet: doses, water, codes, order, times; open, close or reopen the table',
    example: '/spoon table T4',
    run: typedTable,
  },
  taps: {
    'table.sheet': {
      for: 'look at table',
      run: (deps, tap) => showSheet(deps, tap, tastingOf(tap)),
    },
    'table.more': { for: 'look at table', run: showPage },
    'table.print': { for: 'look at table', run: printTap },
    'table.open': {
      for: 'open table',
      run: (deps, tap) => openTable(deps, tap.who, tastingOf(tap)),
    },
    'table.close': {
      for: 'close table',
      run: (deps, tap) => closeTable(deps, tap.who, tastingOf(tap)),
    },
    'table.reopen': {
      for: 'close table',
      run: (deps, tap) => reopenTable(deps, tap.who, tastingOf(tap)),
    },
  },
  forms: {},
  subjects: {
    tasting: {
      notices: (deps, workspace, subject) => noticesOfTasting(deps, workspace, Number(subjectId(subject))),
    },
  },
};

async function typedTable(deps: Deps, typed: Typed): Promise<Answer> {
  const { tasting, rest } = await whichTasting(deps.db, typed);
  switch (rest.toLowerCase()) {
    case '':
    case 'sheet':
      return showSheet(deps, typed, tasting.id);
    case 'print':
      return printSheet(deps, typed, tasting.id);
    case 'open':
      return openTable(deps, typed.who, tasting.id);
    case 'close':
      return closeTable(deps, typed.who, tasting.id);
    case 'reopen':
      return reopenTable(deps, typed.who, tasting.id);
    default:
      throw new UserError(
        `I know the table ${tastingName(tasting)}, but not what “${mrkdwn(rest)}” should do.`,
        `Like \`/spoon table ${tastingName(tasting)}\`, or with print, open, close or reopen.`,
      );
  }
}

async function showSheet(
  deps: Deps,
  { who, channel }: Pick<Tap, 'who' | 'channel'>,
  tastingId: number,
): Promise<Answer> {
  const setting = await requireTableAt(deps.db, who, channel, tastingId);
  return { message: tableSheetMessage(await loadSheet(deps.db, who, setting)) };
}

async function showPage(deps: Deps, tap: Tap): Promise<Answer> {
  const { tasting, page } = readValue(PageValue, tap.value);
  const setting = await requireTableAt(deps.db, tap.who, tap.channel, tasting);
  const view = await loadSheet(deps.db, tap.who, setting);
  return { form: sheetPageView(view, page) };
}

/** The bot never blocks the host: an unready table opens, and what is missing is said out loud. */
async function openTable(deps: Deps, who: Who, tastingId: number): Promise<Answer> {
  const { tasting } = await requireTable(deps.db, who.workspace, tastingId);
  const waiting = await notReady(deps, who, tasting);
  const changed = await changeTable(deps, who, tastingId, 'open');
  if (!changed) return { message: say(`*${tastingName(tasting)}* is open already.`) };
  const lines = [
    `*${tastingName(tasting)}* is open. Each cup has its thread; the water is scalding, so pour before people crowd in.`,
  ];
  if (waiting.length > 0)
    lines.push('Opened although not all was ready:', ...waiting.map((line) => `• ${mrkdwn(line)}`));
  return { message: say(lines.join('\n')) };
}

async function closeTable(deps: Deps, who: Who, tastingId: number): Promise<Answer> {
  const changed = await changeTable(deps, who, tastingId, 'close');
  const { tasting } = await requireTable(deps.db, who.workspace, tastingId);
  const name = tastingName(tasting);
  const next = buttons(
    button('Decide and post the digest', 'digest.form', { tasting: tastingId }, { style: 'primary' }),
    button('Reopen', 'table.reopen', { tasting: tastingId }),
  );
  return {
    message: say(
      changed ? `*${name}* is closed. The tally stands in its thread.` : `*${name}* is closed already.`,
      ...next,
    ),
  };
}

async function reopenTable(deps: Deps, who: Who, tastingId: number): Promise<Answer> {
  const changed = await changeTable(deps, who, tastingId, 'reopen');
  const { tasting } = await requireTable(deps.db, who.workspace, tastingId);
  return {
    message: say(
      changed
        ? `*${tastingName(tasting)}* is open again. Late notes count now.`
        : `*${tastingName(tasting)}* is open already.`,
    ),
  };
}

async function notReady(deps: Deps, who: Who, tasting: Tasting): Promise<readonly string[]> {
  if (tasting.state !== 'booked') return [];
  const setting = await loadTable(deps.db, who.workspace, tasting);
  const { coffees } = await loadReadiness(deps.db, who.workspace, setting.tasting, deps.clock.now());
  return coffees.filter((coffee) => coffee.state !== 'on the shelf').map((coffee) => coffee.said);
}

const NEEDS: Readonly<Record<'open' | 'close' | 'reopen', Action>> = {
  open: 'open table',
  close: 'close table',
  reopen: 'close table',
};

/**
 * Opens, closes or reopens a table; a second tap changes nothing.
 *
 * @returns false when it was so already
 */
export async function changeTable(
  deps: Deps,
  who: Who,
  tastingId: number,
  change: 'open' | 'close' | 'reopen',
): Promise<boolean> {
  const now = deps.clock.now();
  const house = await loadHouse(deps.db, who.workspace);
  return inTransaction(deps.db, async (trx) => {
    const tasting = await findTasting(trx, who.workspace, tastingId);
    if (!tasting) throw new UserError('I cannot find that tasting any more.');
    requireMay(NEEDS[change], standingOf(who.person, house, { tasting }), tasting);
    const context = { workspace: who.workspace, now, who: who.person };
    const changed = await changeTasting(trx, context, tasting, change, {
      values: stamped(change, now),
      refused: `${tastingName(tasting)}: `,
    });
    if (!changed) return false;
    if (change === 'open') await planTableRoasts(trx, context, tasting.id);
    if (change === 'close') await useTableCoffee(trx, context, tasting.id);
    if (change === 'reopen') await countLateNotes(trx, tasting.id);
    return true;
  });
}

/** The tally stands from closing on; a table that reopens keeps it, and it stays true. */
function stamped(change: 'open' | 'close' | 'reopen', now: Date) {
  if (change === 'open') return { opened_at: now.toISOString() };
  return change === 'close' ? { closed_at: now.toISOString(), tally_shown: 1 } : { closed_at: null };
}

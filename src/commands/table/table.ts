import { z } from 'zod';
import { LIVE_STATES, type Tasting, tastingName } from '../../domain/record/tasting.js';
import { button, buttons, say } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import { KindRefusal } from '../../runtime/errors.js';
import type { Answer } from '../common/answer.js';
import type { Deps } from '../common/deps.js';
import { type Feature, subjectId } from '../common/feature.js';
import type { Tap, Typed } from '../common/intake.js';
import { loadTable, requireTable, requireTableAt } from '../common/load-table.js';
import { changeTable } from '../common/table-change.js';
import { Id, readValue } from '../common/values.js';
import { takeTastingName, whichTasting } from '../common/which-tasting.js';
import type { Who } from '../common/who.js';
import { signTap } from '../deciding/decide-sign.js';
import { GROUP_ROASTED_FORM, MARGIN_FORM } from '../deciding/production-forms.js';
import { marginSubmitted, marginTap } from '../deciding/table-margin.js';
import { roastedSubmitted, roastedTap } from '../deciding/table-roasted.js';
import { runsOutTap } from '../deciding/table-runs-out.js';
import { loadReadiness } from '../planning/load-plan.js';
import { loadSheet } from './load-sheet.js';
import { noticesOfTasting } from './notices-of.js';
import { printSheet, printTap } from './table-print.js';
import { SHEET_PAGES, sheetPageView, tableSheetMessage } from './table-sheet-message.js';

const Value = z.object({ tasting: Id });
const PageValue = Value.extend({ page: z.enum(SHEET_PAGES) });

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
      run: (deps, tap) => showSheet(deps, tap, readValue(Value, tap.value).tasting),
    },
    'table.more': { for: 'look at table', run: showPage },
    'table.print': { for: 'look at table', run: printTap },
    'table.sign': { for: 'sign off recipe', run: signTap },
    'table.roasted': { for: 'change shelf', run: roastedTap },
    'table.runsout': { for: 'look at table', run: runsOutTap },
    'table.margin': { for: 'look at table', run: marginTap },
    'table.open': {
      for: 'open table',
      run: (deps, tap) => openTable(deps, tap.who, readValue(Value, tap.value).tasting),
    },
    'table.close': {
      for: 'close table',
      run: (deps, tap) => closeTable(deps, tap.who, readValue(Value, tap.value).tasting),
    },
    'table.reopen': {
      for: 'close table',
      run: (deps, tap) => reopenTable(deps, tap.who, readValue(Value, tap.value).tasting),
    },
  },
  forms: {
    [GROUP_ROASTED_FORM]: { for: 'change shelf', run: roastedSubmitted },
    [MARGIN_FORM]: { for: 'look at table', run: marginSubmitted },
  },
  subjects: {
    tasting: {
      notices: (deps, workspace, subject) => noticesOfTasting(deps, workspace, Number(subjectId(subject))),
    },
  },
};

async function typedTable(deps: Deps, typed: Typed): Promise<Answer> {
  const { number, rest } = takeTastingName(typed.words);
  const tasting = await whichTasting(deps.db, typed, number, LIVE_STATES);
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
      throw new KindRefusal(
        'not understood',
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

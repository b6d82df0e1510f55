import { z } from 'zod';
import { may } from '../../domain/record/permission.js';
import { tastingName } from '../../domain/record/tasting.js';
import { button, buttons, say } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import { KindRefusal } from '../../runtime/errors.js';
import { markChanged } from '../../store/changed.js';
import { loadHouse } from '../../store/house.js';
import { changeTasting } from '../../store/tastings.js';
import { inTransaction } from '../../store/transaction.js';
import type { Answer } from '../common/answer.js';
import type { Deps } from '../common/deps.js';
import { type Feature, subjectId } from '../common/feature.js';
import type { Typed } from '../common/intake.js';
import { requireTable } from '../common/load-table.js';
import { requireMay, standingOf } from '../common/standing.js';
import { Id, readValue } from '../common/values.js';
import { takeTastingName, whichTasting } from '../common/which-tasting.js';
import type { Who } from '../common/who.js';
import { exportTable, noticesOfExport } from './export.js';
import { bookSuggested, suggestPour } from './suggest.js';

const Value = z.object({ tasting: Id });

export const tally: Feature = {
  verb: {
    name: 'tally',
    does: 'what the tasters share about each cup, as counts',
    example: '@Tallyspoon tally',
    run: typedTally,
  },
  taps: {
    'tally.show': {
      for: 'show tally',
      run: (deps, tap) => showTally(deps, tap.who, readValue(Value, tap.value).tasting),
    },
    'tally.export': {
      for: 'show tally',
      run: (deps, tap) => exportTable(deps, tap.who, readValue(Value, tap.value).tasting),
    },
    'suggest.book': { for: 'look at table', run: bookSuggested },
  },
  forms: {},
  subjects: {
    export: {
      notices: (deps, workspace, subject) => noticesOfExport(deps, workspace, Number(subjectId(subject))),
    },
  },
};

async function typedTally(deps: Deps, typed: Typed): Promise<Answer> {
  const { number, rest } = takeTastingName(typed.words);
  const tasting = await whichTasting(
    deps.db,
    typed,
    number,
    ['open', 'closed', 'decided'],
    '/spoon tally T4',
  );
  if (rest.toLowerCase() === 'export') return exportTable(deps, typed.who, tasting.id);
  if (rest !== '')
    throw new KindRefusal(
      'not understood',
      `I can show the tally of ${tastingName(tasting)}, but do not know “${mrkdwn(rest)}”.`,
      `Like \`/spoon tally ${tastingName(tasting)}\`, or \`/spoon tally ${tastingName(tasting)} export\``,
    );
  return showTally(deps, typed.who, tasting.id);
}

/**
 * Puts the tally into the table's thread and keeps it true from then on. While people taste it is the
 * host's to show: notes are written before anyone speaks.
 */
async function showTally(deps: Deps, who: Who, tastingId: number): Promise<Answer> {
  const now = deps.clock.now();
  const house = await loadHouse(deps.db, who.workspace);
  const setting = await requireTable(deps.db, who.workspace, tastingId);
  const { tasting } = setting;
  const name = tastingName(tasting);
  if (tasting.openedAt === null)
    throw new KindRefusal(
      'not now',
      `${name} has not been opened, so there is nothing to tally yet.`,
      `Open it: \`/spoon table ${name} open\``,
    );
  const standing = standingOf(who.person, house, { tasting });
  if (tasting.state === 'open') requireMay('show tally', standing, tasting);
  await inTransaction(deps.db, async (trx) => {
    if (!tasting.tallyShown) {
      await changeTasting(
        trx,
        { id: tasting.id, workspace: who.workspace },
        { tally_shown: 1 },
        { who: who.person, at: now, change: 'tally shown' },
      );
    }
    await markChanged(trx, who.workspace, `tasting:${tasting.id}`, now);
  });
  const next = tasting.state === 'open' && standing.host ? await suggestPour(deps, who, setting) : null;
  const taps = [
    ...(next?.tap ? [next.tap] : []),
    ...(may('show tally', standing) ? [button('Export', 'tally.export', { tasting: tasting.id })] : []),
  ];
  const lines = [
    `The tally of *${name}* stands in its thread and stays true as notes come in.`,
    ...(next ? [next.said] : []),
  ];
  return { message: say(lines.join('\n'), ...buttons(...taps)) };
}

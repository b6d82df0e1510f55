import { z } from 'zod';
import { formatRatio } from '../../domain/ratio/parts.js';
import { may } from '../../domain/record/permission.js';
import { tastingName } from '../../domain/record/tasting.js';
import { nextAtTable } from '../../domain/result/table-result.js';
import { button, buttons, say } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import { UserError } from '../../runtime/errors.js';
import { markChanged } from '../../store/changed.js';
import { inTransaction } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import { updateTasting } from '../../store/tastings.js';
import { openBookForm } from '../booking/book.js';
import { type Answer, type Deps, type Feature, subjectId } from '../common/bot.js';
import { Id, readValue, type Tap, type Typed, tastingOf, type Who } from '../common/intake.js';
import { requireOpened, requireTable, requireTableAt, whichTasting } from '../common/load-table.js';
import { requireMay, standingOf } from '../common/standing.js';
import { loadResult } from '../common/table-notes.js';
import { exportTable, noticesOfExport } from './export.js';
import { nextWords } from './tally-messages.js';

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
      run: (deps, tap) => showTally(deps, tap.who, tastingOf(tap)),
    },
    'tally.export': {
      for: 'show tally',
      run: (deps, tap) => exportTable(deps, tap.who, tastingOf(tap)),
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
  const states = ['open', 'closed', 'decided'] as const;
  const { tasting, rest } = await whichTasting(deps.db, typed, states, '/spoon tally T4');
  if (rest.toLowerCase() === 'export') return exportTable(deps, typed.who, tasting.id);
  if (rest !== '')
    throw new UserError(
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
  requireOpened(tasting, ', so there is nothing to tally');
  const standing = standingOf(who.person, house, { tasting });
  if (tasting.state === 'open') requireMay('show tally', standing, tasting);
  await inTransaction(deps.db, async (trx) => {
    const change = { who: who.person, at: now, change: 'tally shown' };
    if (!tasting.tallyShown)
      await updateTasting(trx, { id: tasting.id, workspace: who.workspace }, { tally_shown: 1 }, change);
    await markChanged(trx, who.workspace, `tasting:${tasting.id}`, now);
  });
  // What the likings so far suggest pouring next is for the host at an open table.
  const result =
    tasting.state === 'open' && standing.host ? await loadResult(deps.db, who.workspace, setting) : null;
  const next = result && nextWords(setting, nextAtTable(setting, result), false);
  const taps = [
    ...(next?.tap ? [next.tap] : []),
    ...(may('show tally', standing) ? [button('Export', 'tally.export', { tasting: tasting.id })] : []),
  ];
  const lines = [
    `The tally of *${tastingName(tasting)}* stands in its thread and stays true as notes come in.`,
    ...(next ? [next.said] : []),
  ];
  return { message: say(lines.join('\n'), ...buttons(...taps)) };
}

const SuggestedRatio = z.object({
  tasting: Id,
  ratio: z.array(z.number().int().nonnegative()).min(1).max(24),
});

/** The booking form for the suggested ratio, with the blend, people and brief of the table that suggests it. */
async function bookSuggested(deps: Deps, tap: Tap): Promise<Answer> {
  const { tasting: id, ratio } = readValue(SuggestedRatio, tap.value);
  const { tasting, recipe } = await requireTableAt(deps.db, tap.who, tap.channel, id);
  return openBookForm(
    deps,
    { who: tap.who, channel: tasting.channel },
    {
      recipe: recipe.name,
      at: null,
      whenNote: null,
      ratios: [formatRatio(ratio)],
      people: tasting.invited,
      blind: tasting.blind,
      format: tasting.format,
      tables: tasting.tables,
      brief: tasting.brief,
    },
  );
}

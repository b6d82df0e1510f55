import { z } from 'zod';
import { formatGrams } from '../../domain/measure/format-weight.js';
import { parseWeight } from '../../domain/measure/parse-weight.js';
import { may } from '../../domain/record/permission.js';
import { type Tasting, tastingName, USUAL_BATCH_MG } from '../../domain/record/tasting.js';
import { say } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import { KindRefusal } from '../../runtime/errors.js';
import { loadHouse } from '../../store/house.js';
import { listReadNotes } from '../../store/readings.js';
import type { Answer, SubmitAnswer } from '../common/answer.js';
import type { Deps } from '../common/deps.js';
import type { Feature } from '../common/feature.js';
import { chosen, written } from '../common/form-values.js';
import type { Submission, Typed } from '../common/intake.js';
import { loadResult } from '../common/load-result.js';
import { requireTable } from '../common/load-table.js';
import { requireMay, standingOf } from '../common/standing.js';
import { changeTable } from '../common/table-change.js';
import { Id, readValue } from '../common/values.js';
import { takeTastingName, whichTasting } from '../common/which-tasting.js';
import type { Who } from '../common/who.js';
import { showNumbers } from '../tallying/panel.js';
import { decideTable, postDigestAnew } from './decide.js';
import { decidedMessage } from './decide-answer.js';
import { DECIDE_FORM, decideForm } from './decide-form.js';

const Value = z.object({ tasting: Id });

export const digest: Feature = {
  verb: {
    name: 'digest',
    does: 'close, decide and post the digest with the production note',
    example: '/spoon digest T4',
    run: typedDigest,
  },
  taps: {
    'digest.form': {
      for: 'decide',
      run: (deps, tap) => openDecideForm(deps, tap.who, readValue(Value, tap.value).tasting),
    },
    'digest.numbers': {
      for: 'look at table',
      run: (deps, tap) => showNumbers(deps, tap, readValue(Value, tap.value).tasting),
    },
    'digest.again': {
      for: 'decide',
      run: async (deps, tap) => {
        await postDigestAnew(deps, tap.who, readValue(Value, tap.value).tasting);
        return { message: say('The digest stands in the channel anew, with the notes as they are now.') };
      },
    },
  },
  forms: {
    [DECIDE_FORM]: { for: 'decide', run: submitDecision },
  },
  subjects: {},
};

/** `digest T4` opens the form; `digest T4 12 kg` decides as the table found it, with that batch. */
async function typedDigest(deps: Deps, typed: Typed): Promise<Answer> {
  const { number, rest } = takeTastingName(typed.words);
  const tasting = await whichTasting(
    deps.db,
    typed,
    number,
    ['closed', 'open', 'decided'],
    '/spoon digest T4',
  );
  if (tasting.state === 'decided')
    return {
      message: say(`*${tastingName(tasting)}* is decided; its digest stands in <#${tasting.channel}>.`),
    };
  if (rest === '') return openDecideForm(deps, typed.who, tasting.id);
  const batchMg = readBatch(rest, null);
  await closeFirst(deps, typed.who, tasting);
  await decideTable(deps, typed.who, tasting.id, { winner: null, batchMg, remarks: null, signOff: false });
  return { message: await decidedMessage(deps, typed.who, tasting.id) };
}

/** An open table is closed by asking for its digest: what is decided must not move any more. */
async function closeFirst(deps: Deps, who: Who, tasting: Tasting): Promise<void> {
  if (tasting.state === 'open') await changeTable(deps, who, tasting.id, 'close');
}

async function openDecideForm(deps: Deps, who: Who, tastingId: number): Promise<Answer> {
  const { workspace } = who;
  const house = await loadHouse(deps.db, workspace);
  const { tasting } = await requireTable(deps.db, workspace, tastingId);
  const standing = standingOf(who.person, house, { tasting });
  requireMay('decide', standing, tasting);
  if (tasting.openedAt === null)
    throw new KindRefusal(
      'not now',
      `${tastingName(tasting)} has not been opened yet.`,
      `Open it: \`/spoon table ${tastingName(tasting)} open\``,
    );
  await closeFirst(deps, who, tasting);
  const setting = await requireTable(deps.db, workspace, tastingId);
  const notes = await listReadNotes(deps.db, tastingId);
  return {
    form: decideForm({
      setting,
      result: await loadResult(deps.db, workspace, setting, null),
      batchMg: tasting.batchMg ?? USUAL_BATCH_MG,
      withoutCup: notes.filter((note) => note.reading.needsCup).length,
      maySignOff: may('sign off recipe', standing),
    }),
  };
}

async function submitDecision(deps: Deps, { who, form }: Submission): Promise<SubmitAnswer> {
  const { tasting } = await requireTable(
    deps.db,
    who.workspace,
    readValue(Value, form.privateMetadata).tasting,
  );
  await decideTable(deps, who, tasting.id, {
    winner: Number(written(form, 'winner')) || null,
    batchMg: readBatch(written(form, 'batch'), 'batch'),
    remarks: written(form, 'remarks') || null,
    signOff: chosen(form, 'sign').includes('sign'),
  });
  return { message: await decidedMessage(deps, who, tasting.id) };
}

function readBatch(text: string, input: string | null): number {
  const weight = parseWeight(text);
  if (weight.ok && weight.mg > 0) return weight.mg;
  throw new KindRefusal(
    'not understood',
    weight.ok ? 'A batch needs some weight.' : mrkdwn(weight.message),
    `Like ${formatGrams(USUAL_BATCH_MG)}.`,
    input,
  );
}

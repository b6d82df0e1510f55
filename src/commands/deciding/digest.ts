import { formatGrams, parseWeight } from '../../domain/measure/weight.js';
import { may } from '../../domain/record/permission.js';
import { cupRatio } from '../../domain/record/table-setting.js';
import { type Tasting, tastingName, USUAL_BATCH_MG } from '../../domain/record/tasting.js';
import { winnerOf } from '../../domain/result/table-result.js';
import { button, buttons, say } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import type { Message } from '../../kit/notice.js';
import { UserError } from '../../runtime/errors.js';
import { loadHouse } from '../../store/house.js';
import { listReadNotes } from '../../store/readings.js';
import type { Answer, Deps, Feature, SubmitAnswer } from '../common/bot.js';
import {
  chosen,
  OfTasting,
  readValue,
  type Submission,
  type Typed,
  tastingOf,
  type Who,
  written,
} from '../common/intake.js';
import { requireOpened, requireTable, whichTasting } from '../common/load-table.js';
import { requireMay, standingOf } from '../common/standing.js';
import { loadResult } from '../common/table-notes.js';
import { changeTable } from '../table/table.js';
import { showNumbers } from '../tallying/panel.js';
import { againTap, decideTable, signTap } from './decide.js';
import { DECIDE_FORM, decideForm } from './decide-form.js';
import { marginSubmitted, marginTap, runsOutTap } from './decided-table.js';
import { groupRoastedSubmitted, groupRoastedTap } from './group-roasted.js';
import { GROUP_ROASTED_FORM, MARGIN_FORM } from './production-forms.js';

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
      run: (deps, tap) => openDecideForm(deps, tap.who, tastingOf(tap)),
    },
    'digest.numbers': {
      for: 'look at table',
      run: (deps, tap) => showNumbers(deps, tap, tastingOf(tap)),
    },
    'digest.again': { for: 'decide', run: againTap },
    'table.sign': { for: 'sign off recipe', run: signTap },
    'table.roasted': { for: 'change shelf', run: groupRoastedTap },
    'table.runsout': { for: 'look at table', run: runsOutTap },
    'table.margin': { for: 'look at table', run: marginTap },
  },
  forms: {
    [DECIDE_FORM]: { for: 'decide', run: submitDecision },
    [GROUP_ROASTED_FORM]: { for: 'change shelf', run: groupRoastedSubmitted },
    [MARGIN_FORM]: { for: 'look at table', run: marginSubmitted },
  },
  subjects: {},
};

/** `digest T4` opens the form; `digest T4 12 kg` decides as the table found it, with that batch. */
async function typedDigest(deps: Deps, typed: Typed): Promise<Answer> {
  const states = ['closed', 'open', 'decided'] as const;
  const { tasting, rest } = await whichTasting(deps.db, typed, states, '/spoon digest T4');
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
  requireOpened(tasting, '');
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
    readValue(OfTasting, form.privateMetadata).tasting,
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
  throw new UserError(
    weight.ok ? 'A batch needs some weight.' : mrkdwn(weight.message),
    `Like ${formatGrams(USUAL_BATCH_MG)}.`,
    input,
  );
}

/** What the host hears after deciding; a poured winner has to be weighed and cupped next. */
async function decidedMessage(deps: Deps, who: Who, tastingId: number): Promise<Message> {
  const setting = await requireTable(deps.db, who.workspace, tastingId);
  const { tasting, recipe } = setting;
  const done = `*${tastingName(tasting)}* is decided. The digest stands in <#${tasting.channel}>.`;
  const winner = winnerOf(setting);
  if (winner?.kind !== 'pour') return say(done);
  return say(
    `${done}\n${cupRatio(winner, recipe)} was only poured so far. Before production roasts it, weigh it as a blend and cup it.`,
    ...buttons(
      button('Book it as a weighed blend', 'pour.book', { tasting: tasting.id }, { style: 'primary' }),
    ),
  );
}

import type { KnownBlock } from '@slack/types';
import { capitalised, plainList } from '../../domain/measure/plain-list.js';
import type { ProductionNote } from '../../domain/production/production-note.js';
import { cupById, cupContents, type TableSetting } from '../../domain/record/table-setting.js';
import { tastingName } from '../../domain/record/tasting.js';
import { nextAtTable, type TableResult } from '../../domain/result/table-result.js';
import { type AttributeTrace, traceSentences } from '../../domain/trace/trace.js';
import type { WinnerDecision } from '../../domain/verdict/verdict.js';
import { button, buttons, context, divider, header, section, sections } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import type { Message } from '../../kit/notice.js';
import type { TableView } from '../common/table-view.js';
import { nextWords } from '../tallying/tally-messages.js';
import {
  agreementSentence,
  reasonSentences,
  shortName,
  standingBlocks,
  verdictSentence,
  verdictWords,
} from '../tallying/verdict-words.js';
import { productionLines } from './production-messages.js';

type DigestParts = {
  readonly view: TableView;
  readonly result: TableResult;
  /** Null when there is no winner. */
  readonly production: ProductionNote | null;
  /** Set when the host decided otherwise than the table. */
  readonly against: string | null;
  readonly remarks: string | null;
};

/** The digest: the winner and how sure, how the ratios stand, what to say, what to weigh, what to watch, what would settle it. */
export function digestMessage({ view, result, production, against, remarks }: DigestParts): Message {
  const title = `Digest ${tastingName(view.tasting)} · ${view.recipe.name}`;
  const { headline, luck } = verdictWords(view, result);
  const reasons = [against, luck, ...reasonSentences(view, result.decision)].filter((line) => line !== null);
  const agreed = agreementSentence(result.decision);
  const next = nextWords(view, nextAtTable(view, result), result.decision.verdict !== 'clear');
  const value = { tasting: view.tasting.id };
  const blocks: KnownBlock[] = [
    header(title),
    section(`*${mrkdwn(headline)}*`),
    ...sections(reasons.map(mrkdwn)),
    ...standingBlocks(view, result, ...(agreed ? [agreed] : [])),
    ...sections(['*What to say about it*', ...sayings(view, result)]),
    ...(production ? productionBlocks(production, view) : []),
    ...listed(result.decision.verdict === 'clear' ? 'What would change it' : 'What would settle it', [
      ...settleSentences(view, result.decision).map(mrkdwn),
      ...(next ? [next.said] : []),
    ]),
    ...(remarks ? [section(`“${mrkdwn(remarks)}”`)] : []),
    context(footer(view, result)),
    ...buttons(
      ...(next?.tap ? [next.tap] : []),
      button('The numbers behind it', 'digest.numbers', value),
      button('Export', 'tally.export', value),
    ),
  ];
  return { text: mrkdwn(`${title}. ${verdictSentence(view, result)}`), blocks };
}

function productionBlocks(production: ProductionNote, view: TableView): readonly KnownBlock[] {
  const watch = [
    ...production.watch,
    ...production.joining.filter((advice) => advice.verdict !== 'unknown').map((advice) => advice.said),
  ].slice(0, 6);
  return [
    divider(),
    ...sections(['*Production note*', ...productionLines(production, view.house)]),
    ...listed('What to watch', watch.map(mrkdwn)),
  ];
}

function listed(title: string, lines: readonly string[]): readonly KnownBlock[] {
  return lines.length === 0 ? [] : sections([`*${title}*`, ...lines.map((line) => `• ${line}`)]);
}

function footer({ tasting }: TableView, result: TableResult): string {
  const placed = result.decision.placed.length;
  const who = placed === result.tasters ? 'all' : `${placed}`;
  const counted = `${result.notes} notes from ${result.tasters} tasters, ${who} of whom placed the ratios.`;
  const signed = tasting.signedOffBy ? ` Signed off by <@${tasting.signedOffBy}>.` : '';
  return `${counted}${signed} Host <@${tasting.host}>. Notes name flavours, not ingredients.`;
}

const MOST_SENTENCES = 5;
const MOST_AT_COUNTER = 3;

/** What to say about the blend: one sentence for the counter, then where each flavour comes from, with its counts. mrkdwn. */
function sayings(setting: TableSetting, { trace, tally }: TableResult): readonly string[] {
  if (!trace) return ['No ratio was tasted.'];
  const nameOfCup = (id: string) => cupWords(setting, id);
  const sentences = traceSentences(trace, nameOfCup);
  const worded = new Set(sentences.map(({ attribute }) => attribute));
  const traces = withoutGeneral(trace.attributes.filter(({ attribute }) => worded.has(attribute)));
  if (traces.length === 0) return ['Too few shared words to say which coffee a flavour comes from.'];
  const special = new Set(traces.map(({ attribute }) => attribute));
  const flavours = new Set(
    tally.cups.flatMap(({ attributes }) =>
      attributes.flatMap(({ attribute, family }) => (NO_FLAVOURS.has(family) ? [] : attribute)),
    ),
  );
  return [
    ...counterLine(
      traces.filter(({ attribute }) => flavours.has(attribute)),
      nameOfCup,
    ),
    ...sentences
      .filter(({ attribute }) => special.has(attribute))
      .slice(0, MOST_SENTENCES)
      .map(({ text }) => `• ${mrkdwn(text)}`),
  ];
}

/** "Chocolate comes from Chirinos" adds nothing to "dark chocolate comes from Chirinos". */
function withoutGeneral(traces: readonly AttributeTrace[]): readonly AttributeTrace[] {
  const sources = ({ carriedBy }: AttributeTrace) => carriedBy.join();
  return traces.filter(
    (general) =>
      !traces.some(
        (special) =>
          special.attribute.endsWith(` ${general.attribute}`) && sources(special) === sources(general),
      ),
  );
}

/** Families of the vocabulary that are no flavours: "sweet" or "full body" has no place in "strawberry from …". */
const NO_FLAVOURS: ReadonlySet<string> = new Set([
  'main tastes',
  'sweetness',
  'acidity',
  'body',
  'mouthfeel',
  'aftertaste',
  'overall',
  'other',
]);

/** What a barista can say as it is: the most shared flavour of each coffee that comes through. */
function counterLine(
  traces: readonly AttributeTrace[],
  nameOfCup: (id: string) => string,
): readonly string[] {
  const spoken = new Set<string>();
  const said = traces.flatMap(({ status, attribute, carriedBy }) => {
    const from = plainList(carriedBy.map(nameOfCup));
    const comesThrough = status === 'carried' || status === 'lifted';
    if (!comesThrough || from === '' || spoken.has(from)) return [];
    spoken.add(from);
    return [`${attribute} from ${from}`];
  });
  if (said.length === 0) return [];
  return [`At the counter: *“${mrkdwn(capitalised(said.slice(0, MOST_AT_COUNTER).join(', ')))}.”*`];
}

function cupWords(setting: TableSetting, id: string): string {
  const cup = cupById(setting, id);
  return cup ? cupContents(cup, setting) : 'a cup';
}

/**
 * What to do when it is close, and what would turn or settle it. Counts of tasters are said only where a table
 * could really find them: no more than half as many again would turn it, no more than as many again settle it.
 */
function settleSentences(setting: TableSetting, decision: WinnerDecision): readonly string[] {
  const { winner, verdict, wouldChange } = decision;
  if (winner === null || decision.headToHead.length === 0) return [];
  const short = (id: string) => shortName(setting, id);
  const placed = decision.placed.length;
  const { turn, settle } = wouldChange;
  const said: string[] = [];
  if (verdict !== 'clear') {
    const kept = keepTheBlend(setting, decision, short);
    if (kept) said.push(kept);
    if (settle && settle.tasters <= Math.max(6, placed))
      said.push(`${countedTasters(settle.tasters)} placing as this table did would make it clear.`);
    else said.push(tasteAgain(decision, short));
  }
  if (turn && turn.tasters <= Math.max(2, Math.floor(placed / 2)))
    said.push(`${countedTasters(turn.tasters)} putting ${short(turn.cup)} first would turn it.`);
  return said;
}

/** While nothing is settled, the blend as it stands needs no change. */
function keepTheBlend(
  setting: TableSetting,
  { winner, indistinguishable }: WinnerDecision,
  short: (id: string) => string,
): string | null {
  const blend = setting.cups.find((cup) => cup.kind === 'blend');
  if (!blend) return null;
  const id = String(blend.id);
  if (id === winner) return `${short(id)} is the blend as it stands, so nothing has to change meanwhile.`;
  if (!indistinguishable.includes(id)) return null;
  return `${short(id)}, the blend as it stands, cannot be told from it: there is no hurry to change.`;
}

function tasteAgain(
  { winner, indistinguishable, majorities }: WinnerDecision,
  short: (id: string) => string,
) {
  const close = [...(winner === null ? [] : [winner]), ...indistinguishable];
  const names = plainList(close.slice(0, 4).map(short));
  if (majorities.circles.length > 0)
    return `Set ${names} out again two at a time, blind, another day: pairs are easier to tell than all at once.`;
  return `Set ${close.length > 4 ? 'the closest few' : names} out again, blind and by themselves, another day.`;
}

function countedTasters(count: number): string {
  return count === 1 ? 'One more taster' : `${count} more tasters`;
}

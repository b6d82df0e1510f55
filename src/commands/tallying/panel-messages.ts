import type { KnownBlock, ModalView } from '@slack/types';
import { plainList } from '../../domain/measure/plain-list.js';
import type { AttributeAgreement } from '../../domain/panel/agreement.js';
import {
  type PlacingBesideTable,
  placingSentence,
  type TasterBesideTable,
  tasterSentences,
} from '../../domain/panel/beside-table.js';
import { cupById, cupContents, type TableSetting } from '../../domain/record/table-setting.js';
import { tastingName } from '../../domain/record/tasting.js';
import type { TableResult } from '../../domain/result/table-result.js';
import type { WinnerDecision } from '../../domain/verdict/verdict.js';
import { context, header, section, sections } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import { form } from '../../kit/form.js';
import type { Notice } from '../../kit/notice.js';
import { agreementSentence, briefByRatio, formatP, ratioName, shortName } from './verdict-words.js';

const MOST_WORDS = 8;

/**
 * The numbers behind a digest, for whoever wants to check them: the tests by name, how far tasters agree, and how each
 * ratio meets the host's brief.
 */
export function numbersPage(
  setting: TableSetting,
  result: TableResult,
  agreement: readonly AttributeAgreement[],
): ModalView {
  const { decision } = result;
  const short = (id: string) => shortName(setting, id);
  const onOrder = agreementSentence(decision);
  const words = wordLines(agreement);
  const blocks: readonly KnownBlock[] = [
    header('How sure is it?'),
    ...sections(
      [overallLine(decision), ...pairLines(decision, short), ...orderLines(decision, short)].map(mrkdwn),
    ),
    context(
      'Clear: p below 0.05, and the winner told from every other ratio at 5 %. Leaning: p below 0.20, and more tasters for it than for the runner-up. Otherwise too close.',
    ),
    header('How far do tasters agree?'),
    section(
      onOrder
        ? `${mrkdwn(onOrder)} (Kendall’s W, corrected for ties)`
        : 'On the order: too few placed every ratio to say.',
    ),
    ...(words.length > 0
      ? [
          ...sections(words.map(mrkdwn)),
          context(
            '1: all alike, 0: no more than luck brings (Fleiss’ kappa over pairs of tasters, all cups).',
          ),
        ]
      : []),
    ...briefBlocks(setting, result),
  ];
  return form('digest.numbers', `Numbers of ${tastingName(setting.tasting)}`, null, blocks);
}

/** The host's brief, ratio by ratio: the digest names the nearest alone. */
function briefBlocks(setting: TableSetting, { brief }: TableResult): readonly KnownBlock[] {
  const lines = brief === null ? [] : briefByRatio(setting, brief);
  if (brief === null || lines.length === 0) return [];
  return [
    header('Beside the brief'),
    section(`“${mrkdwn(brief.words)}”`),
    ...sections(lines),
    context(
      'Of those who noted a ratio, how many it gives each wish; the percentage is the mean, every wish weighing the same. No part of the verdict.',
    ),
  ];
}

function overallLine({ test, p, placed }: WinnerDecision): string {
  if (test === null) return 'There was nothing to compare.';
  const named = test === 'friedman' ? 'Friedman’s test' : 'Skillings and Mack’s test (it allows for gaps)';
  return `Does the table tell the ratios apart at all? ${named}, ${placed.length} tasters: p ${formatP(p)}.`;
}

function pairLines({ winner, headToHead }: WinnerDecision, short: (id: string) => string): readonly string[] {
  if (winner === null || headToHead.length === 0) return [];
  return [
    `Does it tell ${short(winner)} from each other one? Exact sign test, adjusted by Holm:`,
    ...headToHead.map(
      ({ other, wins, losses, pHolm }) =>
        `• ${short(winner)} over ${short(other)} ${wins}, under it ${losses}: p ${formatP(pHolm)}`,
    ),
  ];
}

function orderLines(decision: WinnerDecision, short: (id: string) => string): readonly string[] {
  const { leastSignificantRankDifference: least, standings, majorities } = decision;
  const lines: string[] = [];
  if (least !== null) {
    const sums = standings.flatMap(({ id, rankSum }) =>
      rankSum === null ? [] : [`${short(id)} ${rankSum}`],
    );
    lines.push(`Rank sums: ${sums.join(', ')}; differences from ${least.toFixed(2)} up count at 5 %.`);
  }
  if (majorities.circles.length > 0) {
    const order = majorities.rankedPairs.map((level) => level.map(short).join(' = ')).join(' > ');
    lines.push(`Ranked pairs (Tideman), the strongest majorities first, would order them ${order}.`);
  }
  return lines;
}

/** Words that two tasters or more used, those they agree on most, then those they agree on least. */
function wordLines(agreement: readonly AttributeAgreement[]): readonly string[] {
  const shared = agreement.flatMap(({ attribute, tasters, kappa }) =>
    tasters > 1 && kappa !== null ? [{ attribute, kappa }] : [],
  );
  if (shared.length === 0) return [];
  const said = (words: typeof shared) =>
    plainList(words.map(({ attribute, kappa }) => `${attribute} ${Math.max(0, kappa).toFixed(2)}`));
  const half = MOST_WORDS / 2;
  if (shared.length <= MOST_WORDS) return [`On words: ${said(shared)}.`];
  return [
    `On words, the most: ${said(shared.slice(0, half))}.`,
    `The least: ${said(shared.slice(-half).reverse())}.`,
  ];
}

/**
 * To each taster alone, once the table is decided: how their notes and their first choice sat beside the table's.
 * Nobody is ranked and nobody else named.
 *
 * @param choices of those who put a ratio first
 */
export function besideNotices(
  setting: TableSetting,
  tasters: readonly TasterBesideTable[],
  choices: readonly PlacingBesideTable[],
): readonly Notice[] {
  const { tasting, recipe } = setting;
  const title = `${tastingName(tasting)} · ${recipe.name}: your notes beside the table’s`;
  const nameOfCup = (id: string) => besideName(setting, id);
  return tasters.map((beside) => {
    const said = [
      ...tasterSentences(beside, nameOfCup),
      ...choices
        .filter(({ taster }) => taster === beside.taster)
        .map((choice) => placingSentence(choice, nameOfCup)),
    ];
    return {
      kind: 'message',
      key: `beside:${tasting.id}:${beside.taster}`,
      place: { kind: 'direct', person: beside.taster },
      message: {
        text: mrkdwn(`${title}. ${said.join(' ')}`),
        blocks: [
          section(`*${mrkdwn(title)}*`),
          ...sections(said.map(mrkdwn)),
          context('Only you get this. It is no score: tasters differ, and a table needs that.'),
        ],
      },
    };
  });
}

function besideName(setting: TableSetting, id: string): string {
  const cup = cupById(setting, id);
  return cup?.kind === 'component' ? cupContents(cup, setting) : ratioName(setting, id);
}

import type { KnownBlock } from '@slack/types';
import { counted, plainList } from '../../domain/measure/plain-list.js';
import { cupById, cupRatio, type TableSetting } from '../../domain/record/table-setting.js';
import { cupName } from '../../domain/record/tasting.js';
import type { TableBrief } from '../../domain/result/table-brief.js';
import type { TableResult } from '../../domain/result/table-result.js';
import type { WinnerDecision } from '../../domain/verdict/verdict.js';
import { sections } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';

/** What a ratio is called where it is named first: "D (2:1:1)". */
export function ratioName(setting: TableSetting, id: string): string {
  const cup = cupById(setting, id);
  return cup ? `${cupName(cup)} (${cupRatio(cup, setting.recipe)})` : 'a cup no longer on the table';
}

/** What it is called from then on: "D". */
export function shortName(setting: TableSetting, id: string): string {
  const cup = cupById(setting, id);
  return cup ? cupName(cup) : 'a cup no longer on the table';
}

/** The winner and how sure: one sentence with the counts behind it, and how often luck alone would do that. */
export function verdictWords(
  setting: TableSetting,
  { decision }: TableResult,
): { readonly headline: string; readonly luck: string | null } {
  const short = (id: string) => shortName(setting, id);
  if (decision.winner === null) return { headline: noWinner(setting, decision), luck: null };
  const winner = ratioName(setting, decision.winner);
  if (decision.decidedBy === 'only ratio')
    return { headline: `${winner} is the only ratio here, so there was nothing to choose.`, luck: null };
  const pairs = pairWords(decision, short);
  const after = pairs === '' ? '' : `: ${pairs}`;
  const luck = `If the ratios tasted all the same, luck alone would set them this far apart ${howOftenByLuck(decision.p)}.`;
  switch (decision.verdict) {
    case 'clear':
      return { headline: `Clear: ${winner} wins${after}.`, luck };
    case 'leaning':
      return { headline: `Leaning to ${winner}, not settled${after}.`, luck };
    case 'too close': {
      const from = plainList(decision.indistinguishable.map(short), 'or') || 'the others';
      const counts = pairs === '' ? '' : ` (${pairs})`;
      return {
        headline: `Too close to call: ${winner} stands first, but cannot be told from ${from}${counts}.`,
        luck,
      };
    }
  }
}

/** Both sentences as one text. */
export function verdictSentence(setting: TableSetting, result: TableResult): string {
  const { headline, luck } = verdictWords(setting, result);
  return luck === null ? headline : `${headline} ${luck}`;
}

function noWinner(setting: TableSetting, decision: WinnerDecision): string {
  if (decision.decidedBy === 'nobody placed') return 'Nobody placed the ratios, so there is no winner yet.';
  const level = decision.level.map((id) => ratioName(setting, id));
  return `${plainList(level)} stand level in rank and cost: the host chooses.`;
}

const MOST_PAIRS = 3;

/** "8 of 9 put it over E, 9 of 9 over F"; of many ratios only those that came closest are named. */
function pairWords(decision: WinnerDecision, short: (id: string) => string): string {
  const pairs = decision.headToHead;
  if (pairs.length === 0) return '';
  const closest = [...pairs].sort((a, b) => b.pHolm - a.pHolm || a.wins - a.losses - (b.wins - b.losses));
  const named = pairs.length > MOST_PAIRS ? closest.slice(0, 2) : pairs;
  const said = named.map(({ other, wins, losses, ties }, index) => {
    const level = ties > 0 ? ` (${ties} level)` : '';
    return `${wins} of ${wins + losses + ties}${index === 0 ? ' put it' : ''} over ${short(other)}${level}`;
  });
  const more = pairs.length > MOST_PAIRS ? ', its closest rivals' : '';
  return `${said.join(', ')}${more}`;
}

/** Which rule decided, when it was not simply the lowest mean rank, and majorities that contradict the ranks. */
export function reasonSentences(setting: TableSetting, decision: WinnerDecision): readonly string[] {
  const rule = ruleSentence(setting, decision);
  return [...(rule === null ? [] : [rule]), ...majoritySentences(setting, decision)];
}

function ruleSentence(setting: TableSetting, decision: WinnerDecision): string | null {
  const level = () => plainList(decision.level.map((id) => shortName(setting, id)));
  switch (decision.decidedBy) {
    case 'lower cost':
      return `${level()} stood level, so the lower cost decided.`;
    case 'host':
      return decision.winner === null ? null : `${level()} stood level in rank and cost, so the host chose.`;
    case 'weighted rank sum':
      return 'Not everyone placed every ratio: the gaps are weighed in, nobody is left out.';
    default:
      return null;
  }
}

/** A circle of majorities, or another ratio that beats the winner head to head. */
function majoritySentences(setting: TableSetting, decision: WinnerDecision): readonly string[] {
  const short = (id: string) => shortName(setting, id);
  const { circles, beatWinner } = decision.majorities;
  const said = circles.map((circle) => {
    const steps = circle.map(
      (id, index) => `${short(id)} over ${short(circle[index + 1] ?? circle[0] ?? '')}`,
    );
    return `The table goes in a circle: more tasters put ${plainList(steps)}. No order suits them all, and nobody tasted wrongly.`;
  });
  const inCircle = new Set(circles.flat());
  const beaten = decision.headToHead.filter(
    ({ other }) => beatWinner.includes(other) && !inCircle.has(other),
  );
  if (beaten.length === 0 || decision.winner === null) return said;
  const winner = short(decision.winner);
  const counts = beaten.map(
    ({ other, wins, losses }) => `${losses} put ${short(other)} over ${winner}, ${wins} under it`,
  );
  return [...said, `Head to head it is the other way round: ${plainList(counts)}.`];
}

/**
 * How the ratios stand, best first: "1. E · 2:1:1: 1.00", with `more` said under them, and the host's brief beside
 * that. Who placed a ratio is said once when all placed all.
 */
export function standingBlocks(
  setting: TableSetting,
  { decision: { standings }, brief }: TableResult,
  ...more: readonly string[]
): readonly KnownBlock[] {
  const counts = new Set(standings.flatMap(({ place, tasters }) => (place === null ? [] : tasters)));
  const alike = counts.size < 2;
  const [only] = counts;
  const caption =
    only === undefined ? '' : ` (mean rank${alike ? ` of ${counted(only, 'taster')}` : ''}, 1 is best)`;
  const lines = standings.map(({ id, meanRank, place, tasters }) => {
    const cup = cupById(setting, id);
    const name = `${shortName(setting, id)} · ${cup ? cupRatio(cup, setting.recipe) : ''}`;
    if (meanRank === null || place === null) return `– ${name}: nobody placed it`;
    return `${place}. ${name}: ${meanRank.toFixed(2)}${alike ? '' : `, placed by ${tasters}`}`;
  });
  return [
    ...sections([`*How the ratios stand*${caption}`, ...[...lines, ...more].map(mrkdwn)]),
    ...(brief ? sections(briefLines(setting, brief)) : []),
  ];
}

/* How strong an agreement sounds: bands of our own, on Kendall's W. */
const AGREED = [
  { least: 0.7, how: 'agreed closely' },
  { least: 0.5, how: 'largely agreed' },
  { least: 0.3, how: 'partly agreed' },
];

/** How far the tasters agreed on the order, in one sentence; null when fewer than two placed every ratio. */
export function agreementSentence({ kendallW, standings }: WinnerDecision): string | null {
  if (kendallW === null) return null;
  const { w, tasters } = kendallW;
  const placed = standings.filter(({ place }) => place !== null).length;
  const all = placed === 2 ? 'both' : `all ${placed}`;
  const how = AGREED.find(({ least }) => w >= least)?.how ?? 'hardly agreed';
  return `The ${tasters} who placed ${all} ${how} on the order: ${w.toFixed(2)}, where 1 is all alike and 0 is no agreement.`;
}

/** A p-value as a newcomer can picture it: "about once in 300 tables", "at about 9 tables in 10". */
export function howOftenByLuck(p: number): string {
  if (p < 0.001) return 'less than once in 1000 tables';
  if (p >= 0.95) return 'at nearly every table';
  if (p >= 0.3) return `at about ${Math.round(p * 10)} tables in 10`;
  return `about once in ${roundly(1 / p)} tables`;
}

/** A whole number with no more figures than luck deserves: 3, 17, 30, 300. */
function roundly(value: number): number {
  const step = value < 20 ? 1 : value < 100 ? 10 : value < 300 ? 50 : 100;
  return Math.round(value / step) * step;
}

/** Limits that a verdict is held to: a p-value just below one is never rounded onto it. */
const LIMITS = [0.05, 0.2] as const;

/** "= 0.03", "< 0.001", "< 0.05" for 0.0498: never more certainty than there is, and on the right side of a limit. */
export function formatP(p: number): string {
  if (p < 0.001) return '< 0.001';
  const just = LIMITS.find((limit) => p < limit && Number(p.toFixed(p < 0.095 ? 3 : 2)) >= limit);
  if (just !== undefined) return `< ${just}`;
  return `= ${p < 0.095 ? p.toFixed(3).replace(/0$/, '') : p.toFixed(2)}`;
}

/**
 * The host's brief beside liking: which ratio is nearest, by how many tasters on each wish, and what of the brief
 * was not understood. mrkdwn, to be shown apart from the verdict.
 */
function briefLines(setting: TableSetting, brief: TableBrief): readonly string[] {
  const asked = `“${mrkdwn(brief.words)}”`;
  if (brief.lines.length === 0)
    return [
      `The brief ${asked} names no flavour I know, so I cannot set the ratios beside it. Words like “chocolate, heavy body, no sourness” work.`,
    ];
  const nearest = brief.view.ratios.filter(({ id }) => brief.view.best.includes(id));
  const said = nearest.map((ratio) => `*${shortName(setting, ratio.id)}*, ${wishWords(ratio, brief)}`);
  const lines = [
    said.length === 0
      ? `Beside the brief ${asked}: nobody has noted a ratio yet.`
      : `Nearest to the brief ${asked}: ${said.join('; level with it ')}. A second view, no part of the verdict.`,
  ];
  const unknown = brief.notUnderstood.map((words) => `“${mrkdwn(words)}”`);
  return unknown.length === 0 ? lines : [...lines, `I did not understand ${plainList(unknown)} of it.`];
}

/** How well each ratio meets the brief, best first: "E 83 %: chocolate 5 of 6 …"; one nobody noted says so. */
export function briefByRatio(setting: TableSetting, brief: TableBrief): readonly string[] {
  if (brief.lines.length === 0) return [];
  return brief.view.ratios.map((ratio) => {
    const name = mrkdwn(shortName(setting, ratio.id));
    if (ratio.met === null) return `• ${name}: nobody noted it`;
    return `• ${name} ${Math.round(100 * ratio.met)} %: ${wishWords(ratio, brief)}`;
  });
}

/** "chocolate 5 of 7, heavy body 4 of 7, no sourness 7 of 7", in the host's own words. */
function wishWords({ lines }: TableBrief['view']['ratios'][number], { inOwnWords }: TableBrief): string {
  return lines
    .map(({ attribute, want, tasters, noted }) => {
      const named = `${want === 'absent' ? 'no ' : ''}${attribute}`;
      return `${mrkdwn(inOwnWords.get(attribute) ?? named)} ${tasters} of ${noted}`;
    })
    .join(', ');
}

import { plainList } from '../domain/measure/plain-list.js';
import type { TableResult } from '../domain/record/table-result.js';
import { cupRatio, type TableSetting } from '../domain/record/table-setting.js';
import { cupName } from '../domain/record/tasting.js';
import type { WinnerDecision } from '../domain/verdict/verdict.js';

/** What the winner is called: "D (2:1:1)". `bold` stars the cup's name for mrkdwn. */
export function ratioName(setting: TableSetting, id: string): string {
  const cup = setting.cups.find((held) => String(held.id) === id);
  return cup ? `${cupName(cup)} (${cupRatio(cup, setting.recipe)})` : 'a cup no longer on the table';
}

/** The winner and how sure, in one or two sentences with the numbers behind it. */
export function verdictSentence(setting: TableSetting, result: TableResult): string {
  const { decision } = result;
  const name = (id: string) => ratioName(setting, id);
  if (decision.winner === null) return noWinner(decision, name);
  if (decision.decidedBy === 'only ratio')
    return `${name(decision.winner)} is the only ratio on the table, so there was nothing to choose.`;
  const winner = name(decision.winner);
  switch (decision.verdict) {
    case 'clear':
      return `Clear: ${winner} wins. ${pairSentence(decision, name)} (p ${formatP(decision.p)} that such an order comes by chance).`;
    case 'leaning':
      return `Leaning to ${winner}, not settled. ${pairSentence(decision, name)} (p ${formatP(decision.p)}).`;
    case 'too close':
      return `Too close to call. ${winner} stands first, but the tasters could not tell it from ${plainList(decision.indistinguishable.map(name)) || 'the others'} (p ${formatP(decision.p)}).${pairs(decision) > 0 ? ` ${pairSentence(decision, name)}.` : ''}`;
  }
}

function noWinner(decision: WinnerDecision, name: (id: string) => string): string {
  if (decision.decidedBy === 'nobody placed') return 'Nobody placed the ratios, so there is no winner yet.';
  return `${plainList(decision.level.map(name))} stand level in rank and cost: the host chooses.`;
}

/** "8 of 9 put D over E and 9 of 9 over F": the exact comparison, two ratios at a time. */
function pairSentence(decision: WinnerDecision, name: (id: string) => string): string {
  const said = decision.headToHead.map(({ other, wins, losses, ties }) => ({
    other,
    wins,
    of: wins + losses + ties,
  }));
  const winner = name(decision.winner ?? '');
  const parts = said.map(
    ({ other, wins, of }, index) =>
      `${wins} of ${of} put ${index === 0 ? `${winner} ` : 'it '}over ${name(other)}`,
  );
  return plainList(parts);
}

function pairs(decision: WinnerDecision): number {
  return decision.headToHead.length;
}

/** Which rule decided, when it was not simply the lowest mean rank. */
export function ruleSentence(setting: TableSetting, decision: WinnerDecision): string | null {
  const name = (id: string) => ratioName(setting, id);
  switch (decision.decidedBy) {
    case 'lower cost':
      return `${plainList(decision.level.map(name))} stood level, so the lower cost decided.`;
    case 'host':
      return decision.winner === null
        ? null
        : `${plainList(decision.level.map(name))} stood level in rank and cost, so the host chose.`;
    case 'weighted rank sum':
      return 'Not everyone placed every ratio, so weighted rank sums decided (Skillings–Mack); nobody was left out.';
    default:
      return null;
  }
}

/** Majorities that contradict the ranks: a circle, or another ratio that beats the winner head to head. */
export function majoritySentences(setting: TableSetting, decision: WinnerDecision): readonly string[] {
  const name = (id: string) => ratioName(setting, id);
  const circles = decision.majorities.circles.map(
    (circle) =>
      `Majorities run in a circle: ${[...circle, circle[0] ?? ''].map(name).join(' over ')}. No order satisfies them all.`,
  );
  const beaten = decision.majorities.beatWinner;
  if (beaten.length === 0 || decision.winner === null) return circles;
  return [
    ...circles,
    `Head to head, more tasters put ${plainList(beaten.map(name))} over ${name(decision.winner)} than under it.`,
  ];
}

/** How the ratios stand, best first. */
export function standingLines(setting: TableSetting, decision: WinnerDecision): readonly string[] {
  return decision.standings.map((standing) => {
    const name = ratioName(setting, standing.id);
    if (standing.meanRank === null || standing.place === null) return `– ${name}: not placed`;
    return `${standing.place}. ${name}: mean rank ${Number(standing.meanRank.toFixed(2))}, placed by ${standing.tasters}`;
  });
}

/** What would turn or settle it. */
export function wouldSettleSentences(setting: TableSetting, decision: WinnerDecision): readonly string[] {
  const name = (id: string) => ratioName(setting, id);
  const { turn, settle } = decision.wouldChange;
  const said: string[] = [];
  if (turn) said.push(`${countedTasters(turn.tasters)} putting ${name(turn.cup)} first would turn this.`);
  if (settle) said.push(`${countedTasters(settle.tasters)} placing as this table did would make it clear.`);
  else if (decision.verdict !== 'clear' && decision.winner !== null && decision.headToHead.length > 0) {
    said.push(
      'More of the same tasters would not settle it: taste the close ratios again, fewer cups, another day.',
    );
  }
  return said;
}

function countedTasters(count: number): string {
  return count === 1 ? 'One more taster' : `${count} more tasters`;
}

/** "= 0.03", "< 0.001": never more certainty than there is. */
export function formatP(p: number): string {
  if (p < 0.001) return '< 0.001';
  return `= ${p < 0.095 ? p.toFixed(3).replace(/0$/, '') : p.toFixed(2)}`;
}

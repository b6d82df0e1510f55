import { plainList } from '../../domain/measure/plain-list.js';
import type { TableSetting } from '../../domain/record/table-setting.js';
import type { WinnerDecision } from '../../domain/verdict/verdict.js';
import { shortName } from '../tallying/verdict-words.js';

/**
 * What to do when it is close, and what would turn or settle it. Counts of tasters are said only where a table
 * could really find them: no more than half as many again would turn it, no more than as many again settle it.
 */
export function settleSentences(setting: TableSetting, decision: WinnerDecision): readonly string[] {
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

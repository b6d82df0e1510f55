import type { WinnerDecision } from '../../domain/verdict/verdict.js';

/* How strong an agreement sounds: bands of our own, on Kendall's W. */
const CLOSELY = 0.7;
const LARGELY = 0.5;
const PARTLY = 0.3;

/** How far the tasters agreed on the order, in one sentence; null when fewer than two placed every ratio. */
export function agreementSentence({ kendallW, standings }: WinnerDecision): string | null {
  if (kendallW === null) return null;
  const { w, tasters } = kendallW;
  const placed = standings.filter(({ place }) => place !== null).length;
  const all = placed === 2 ? 'both' : `all ${placed}`;
  const how =
    w >= CLOSELY
      ? 'agreed closely'
      : w >= LARGELY
        ? 'largely agreed'
        : w >= PARTLY
          ? 'partly agreed'
          : 'hardly agreed';
  return `The ${tasters} who placed ${all} ${how} on the order: ${w.toFixed(2)}, where 1 is all alike and 0 is no agreement.`;
}

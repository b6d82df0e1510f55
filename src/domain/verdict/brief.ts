import { type Interval, wilsonInterval } from '../stats/intervals.js';
import type { CupTally } from '../tally/tally.js';

/** One line of a host's brief, already read: an attribute, family or subfamily that is wanted or not wanted. */
export type BriefLine = { readonly attribute: string; readonly want: 'present' | 'absent' };

/** How one ratio meets one line. */
type LineMet = BriefLine & {
  /** tasters for whom the ratio meets the line: who find a wanted attribute, who do not find an unwanted one */
  readonly tasters: number;
  readonly noted: number;
  /** tasters / noted, 0..1 */
  readonly share: number;
  readonly wilson: Interval;
  /** tasters who say outright that the attribute is not there */
  readonly denied: number;
  /** mean intensity where it is found, null when nobody gave one */
  readonly meanIntensity: number | null;
};

/** How one ratio meets the whole brief. */
type BriefMet = {
  readonly id: string;
  /** tasters who noted the ratio */
  readonly noted: number;
  /** mean of the lines' shares, 0..1; null when nobody noted the ratio */
  readonly met: number | null;
  readonly lines: readonly LineMet[];
};

/** The brief beside the table: a second view, never part of the verdict. */
export type BriefView = {
  /** best met first; level ones keep the order given */
  readonly ratios: readonly BriefMet[];
  /** the ratios that meet it best, several when level */
  readonly best: readonly string[];
};

function foundIn(cup: CupTally, attribute: string): { tasters: number; denied: number } {
  const own = cup.attributes.find((tally) => tally.attribute === attribute);
  const group = [...cup.families, ...cup.subfamilies].find(({ name }) => name === attribute);
  // A group counts everyone who found anything in it, so "chocolate" is met by dark chocolate too.
  return { tasters: Math.max(own?.tasters ?? 0, group?.tasters ?? 0), denied: own?.denied ?? 0 };
}

function lineMet(cup: CupTally, line: BriefLine): LineMet {
  const { tasters: found, denied } = foundIn(cup, line.attribute);
  const tasters = line.want === 'present' ? found : cup.tasters - found;
  return {
    ...line,
    tasters,
    noted: cup.tasters,
    share: cup.tasters === 0 ? 0 : tasters / cup.tasters,
    wilson: wilsonInterval(tasters, cup.tasters),
    denied,
    meanIntensity:
      cup.attributes.find(({ attribute }) => attribute === line.attribute)?.meanIntensity ?? null,
  };
}

/**
 * How well each ratio meets a target in words ("chocolate, heavy body, no sourness"): per line the share of its
 * tasters for whom it does, and the mean of those shares, every line weighing the same. A plain reading of the
 * tally, a rule of this project's own; liking plays no part in it, nor it in the verdict.
 *
 * @param ratios tallies of the ratio cups
 */
export function meetBrief(ratios: readonly CupTally[], brief: readonly BriefLine[]): BriefView {
  const met = ratios.map((cup): BriefMet => {
    const lines = brief.map((line) => lineMet(cup, line));
    const sum = lines.reduce((total, { share }) => total + share, 0);
    const known = cup.tasters > 0 && lines.length > 0;
    return { id: cup.cup, noted: cup.tasters, met: known ? sum / lines.length : null, lines };
  });
  const ordered = [...met].sort((a, b) => (b.met ?? -1) - (a.met ?? -1));
  const top = ordered[0]?.met ?? null;
  const best = top === null ? [] : met.filter((ratio) => ratio.met !== null && top - ratio.met < 1e-9);
  return { ratios: ordered, best: best.map(({ id }) => id) };
}

import { z } from 'zod';
import { type Cup, cupName } from '../record/tasting.js';
import { meanInterval } from '../stats/intervals.js';
import type { TableResult } from './table-result.js';

/** Dots by attribute and cup: the share of tasters who find it there, 0..1. */
export const TallyDrawing = z.object({
  kind: z.literal('tally'),
  cups: z.array(z.string()),
  attributes: z.array(z.string()),
  dots: z.array(
    z.object({
      cup: z.string(),
      attribute: z.string(),
      share: z.number(),
      tasters: z.number(),
      noted: z.number(),
    }),
  ),
});
export type TallyDrawing = z.output<typeof TallyDrawing>;

/** The ratios on a line of ranks, 1 the best, with the spread of the placings behind each mean. */
export const PlacingDrawing = z.object({
  kind: z.literal('placing'),
  ratios: z.array(
    z.object({ name: z.string(), mean: z.number(), low: z.number(), high: z.number(), tasters: z.number() }),
  ),
  worst: z.number(),
});
export type PlacingDrawing = z.output<typeof PlacingDrawing>;

export const Drawing = z.discriminatedUnion('kind', [TallyDrawing, PlacingDrawing]);
export type Drawing = z.output<typeof Drawing>;

const MOST_ATTRIBUTES = 12;

/** What the tally's picture shows: the attributes that any cup shares most, at most twelve, and every cup. */
export function tallyDrawing(cups: readonly Cup[], result: Pick<TableResult, 'tally'>): TallyDrawing | null {
  const best = new Map<string, number>();
  for (const cup of result.tally.cups) {
    for (const { attribute, tasters, share } of cup.attributes) {
      if (tasters > 0) best.set(attribute, Math.max(best.get(attribute) ?? 0, share + tasters / 1000));
    }
  }
  const attributes = [...best]
    .sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1))
    .slice(0, MOST_ATTRIBUTES)
    .map(([name]) => name);
  if (attributes.length === 0) return null;
  const names = new Map(cups.map((cup) => [String(cup.id), cupName(cup)]));
  const dots = result.tally.cups.flatMap((cup) =>
    cup.attributes.flatMap(({ attribute, share, tasters }) =>
      attributes.includes(attribute) && tasters > 0
        ? [{ cup: names.get(cup.cup) ?? '', attribute, share, tasters, noted: cup.tasters }]
        : [],
    ),
  );
  return { kind: 'tally', cups: cups.map(cupName), attributes, dots };
}

/** The same in words, for those who do not see the picture. */
export function tallyAltText(drawing: TallyDrawing): string {
  const said = drawing.cups.map((cup) => {
    const dots = drawing.dots
      .filter((dot) => dot.cup === cup)
      .sort((a, b) => b.tasters - a.tasters)
      .slice(0, 4);
    return `${cup}: ${dots.map((dot) => `${dot.attribute} ${dot.tasters} of ${dot.noted}`).join(', ') || 'no words'}`;
  });
  return `Attributes by cup. ${said.join('. ')}.`;
}

/**
 * What the digest's picture shows: each placed ratio's mean rank with the 95 % interval of the mean by Student's t,
 * kept inside the possible ranks. A single taster's rank has none, and is shown as the bare dot.
 */
export function placingDrawing(
  name: (cup: string) => string,
  { decision, ranks }: Pick<TableResult, 'decision' | 'ranks'>,
): PlacingDrawing | null {
  const placed = decision.standings.filter((standing) => standing.meanRank !== null);
  if (placed.length < 2) return null;
  const ratios = placed.map(({ id, meanRank, tasters }) => {
    const mean = meanRank ?? 0;
    const [low, high] = meanInterval(ranks.get(id) ?? []) ?? [mean, mean];
    return { name: name(id), mean, low: Math.max(1, low), high: Math.min(placed.length, high), tasters };
  });
  return { kind: 'placing', ratios, worst: placed.length };
}

/** The same in words. */
export function placingAltText(drawing: PlacingDrawing): string {
  const said = drawing.ratios.map((ratio) => `${ratio.name}: mean rank ${meanInWords(ratio)}`);
  return `How the ratios stand, 1 is best; in brackets the 95 % interval. ${said.join('. ')}.`;
}

/** "2.29 (1.8 to 2.7) from 7 tasters"; where all gave the same rank there is no spread, and that is said instead. */
function meanInWords({ mean, low, high, tasters }: PlacingDrawing['ratios'][number]): string {
  const rank = Number(mean.toFixed(2));
  if (tasters === 1) return `${rank} from one taster`;
  if (high - low < 1e-9) return `${rank}, the same from all ${tasters} tasters`;
  return `${rank} (${Number(low.toFixed(1))} to ${Number(high.toFixed(1))}) from ${tasters} tasters`;
}

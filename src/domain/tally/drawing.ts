import { z } from 'zod';
import type { TableResult } from '../record/table-result.js';
import { type Cup, cupName } from '../record/tasting.js';

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
export function tallyDrawing(cups: readonly Cup[], result: TableResult): TallyDrawing | null {
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
 * What the digest's picture shows: each placed ratio's mean rank with a 95 % interval of the mean by the
 * normal approximation (mean ± 1.96 × s / √n), kept inside the possible ranks.
 */
export function placingDrawing(
  name: (cup: string) => string,
  result: TableResult,
  ranks: ReadonlyMap<string, readonly number[]>,
): PlacingDrawing | null {
  const placed = result.decision.standings.filter((standing) => standing.meanRank !== null);
  if (placed.length < 2) return null;
  const ratios = placed.map(({ id, meanRank, tasters }) => {
    const mean = meanRank ?? 0;
    const half = halfWidth(ranks.get(id) ?? []);
    return {
      name: name(id),
      mean,
      low: Math.max(1, mean - half),
      high: Math.min(placed.length, mean + half),
      tasters,
    };
  });
  return { kind: 'placing', ratios, worst: placed.length };
}

function halfWidth(ranks: readonly number[]): number {
  if (ranks.length < 2) return 0;
  const mean = ranks.reduce((sum, rank) => sum + rank, 0) / ranks.length;
  const variance = ranks.reduce((sum, rank) => sum + (rank - mean) ** 2, 0) / (ranks.length - 1);
  return 1.96 * Math.sqrt(variance / ranks.length);
}

/** The same in words. */
export function placingAltText(drawing: PlacingDrawing): string {
  const said = drawing.ratios.map(
    (ratio) =>
      `${ratio.name}: mean rank ${Number(ratio.mean.toFixed(2))} (${Number(ratio.low.toFixed(1))} to ${Number(ratio.high.toFixed(1))}) from ${ratio.tasters} tasters`,
  );
  return `How the ratios stand, 1 is best. ${said.join('. ')}.`;
}

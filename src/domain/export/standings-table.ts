import type { TableResult } from '../record/table-result.js';
import { cupContents, type TableSetting } from '../record/table-setting.js';
import { cupName, tastingName } from '../record/tasting.js';
import { columns, type ExportTable, rounded } from './export-table.js';

const STANDINGS_COLUMNS = columns(
  ['tasting', 'the tasting, like T4'],
  ['cup', 'the ratio’s cup'],
  ['holds', 'what is in it'],
  ['place', 'its place, cups that stand level sharing the better number; empty when nobody placed it'],
  ['tasters', 'tasters who placed it beside another'],
  ['mean_rank', 'mean of its ranks, 1 the best'],
  ['rank_sum', 'sum of its ranks'],
  [
    'weighted_rank_sum',
    'Skillings and Mack’s weighted rank sum, which decides when placings are missing; lower is better',
  ],
  ['winner', 'yes for the ratio the table found'],
  ['winner_over_it', 'tasters who put the winner over it'],
  ['it_over_winner', 'tasters who put it over the winner'],
  ['level_with_winner', 'tasters who placed both and put neither first'],
  ['p', 'exact two-sided sign test of the winner against it'],
  ['p_holm', 'the same, Holm over the other ratios'],
  ['verdict', 'clear, leaning or too close; the table’s, the same on every row from here on'],
  ['test', 'friedman, or skillings-mack when placings are missing'],
  ['p_overall', 'its p: whether the table tells the ratios apart at all'],
  ['least_significant_rank_difference', 'at 5 %, on rank sums; empty when placings are missing'],
  ['kendall_w', 'agreement of the tasters who placed every ratio, 0 to 1'],
);

/** How the ratios stand, best first, with the figures the verdict rests on. */
export function standingsExport(setting: TableSetting, { decision }: TableResult): ExportTable {
  const table = [
    decision.verdict,
    decision.test,
    rounded(decision.p, 6),
    rounded(decision.leastSignificantRankDifference, 3),
    rounded(decision.kendallW?.w ?? null, 4),
  ];
  const rows = decision.standings.flatMap((standing) => {
    const cup = setting.cups.find(({ id }) => String(id) === standing.id);
    if (!cup) return [];
    const pair = decision.headToHead.find(({ other }) => other === standing.id);
    return [
      [
        tastingName(setting.tasting),
        cupName(cup),
        cupContents(cup, setting),
        standing.place,
        standing.tasters,
        rounded(standing.meanRank, 4),
        standing.rankSum,
        rounded(standing.weightedRankSum, 4),
        standing.id === decision.winner ? 'yes' : null,
        pair?.wins ?? null,
        pair?.losses ?? null,
        pair?.ties ?? null,
        rounded(pair?.p ?? null, 6),
        rounded(pair?.pHolm ?? null, 6),
        ...table,
      ],
    ];
  });
  return { name: 'standings', columns: STANDINGS_COLUMNS, rows };
}

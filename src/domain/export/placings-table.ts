import { latestLikings } from '../next-ratio/likings.js';
import type { TableResult } from '../record/table-result.js';
import { cupContents, ratioCups, type TableSetting } from '../record/table-setting.js';
import { cupName, tastingName } from '../record/tasting.js';
import { tasterRanks } from '../verdict/taster-ranks.js';
import { columns, type ExportTable } from './export-table.js';

const PLACINGS_COLUMNS = columns(
  ['tasting', 'the tasting, like T4'],
  ['taster', 'the taster’s number at this table, the same in every file'],
  ['cup', 'the cup'],
  ['holds', 'what is in it'],
  [
    'rank',
    'its rank among the ratios this taster placed, 1 the best, ties sharing the middle; empty when never placed',
  ],
  ['liking', 'the taster’s latest liking, 1 to 9; empty when none was given'],
);

/** One row for each cup a taster has placed or rated. */
export function placingsExport(
  setting: TableSetting,
  result: TableResult,
  numbers: ReadonlyMap<string, number>,
): ExportTable {
  const ids = ratioCups(setting.cups).map((cup) => String(cup.id));
  const ranks = new Map(
    tasterRanks(ids, result.counted, result.placings).map((row) => [row.taster, row.ranks]),
  );
  const likings = new Map(
    latestLikings(result.placings).map(({ taster, cup, liking }) => [`${taster} ${cup}`, liking]),
  );
  const rows = [...numbers].flatMap(([person, number]) =>
    setting.cups.flatMap((cup) => {
      const id = String(cup.id);
      const rank = ranks.get(person)?.[ids.indexOf(id)] ?? null;
      const liking = likings.get(`${person} ${id}`) ?? null;
      if (rank === null && liking === null) return [];
      return [[tastingName(setting.tasting), number, cupName(cup), cupContents(cup, setting), rank, liking]];
    }),
  );
  return { name: 'placings', columns: PLACINGS_COLUMNS, rows };
}

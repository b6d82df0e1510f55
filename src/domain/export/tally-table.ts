import type { TableResult } from '../record/table-result.js';
import { cupContents, type TableSetting } from '../record/table-setting.js';
import { type Cup, cupName, tastingName } from '../record/tasting.js';
import type { CupTally } from '../tally/tally.js';
import { type Cell, columns, type ExportTable, rounded } from './export-table.js';

const TALLY_COLUMNS = columns(
  ['tasting', 'the tasting, like T4'],
  ['cup', 'the cup’s letter, or its code when the table was blind'],
  ['holds', 'what is in the cup'],
  ['kind', 'component, blend (the recipe as it stands), ratio (weighed) or pour (spooned together)'],
  ['level', 'attribute, or subfamily or family: everyone who found anything in it'],
  ['name', 'the attribute, subfamily or family'],
  ['family', 'the family of an attribute; empty for groups'],
  ['tasters', 'distinct tasters whose latest word is that it is there'],
  ['noted', 'distinct tasters who noted the cup'],
  ['share', 'tasters divided by noted, 0 to 1'],
  ['share_low', 'lower end of the share’s 95 % Wilson interval'],
  ['share_high', 'upper end of it'],
  ['denied', 'tasters whose latest word is that it is not there'],
  ['doubted', 'of tasters, those in doubt'],
  ['compared', 'tasters who only compared it with another cup'],
  ['intensity_mean', 'mean of the intensities given, 0 to 15; empty when none was'],
  ['intensity_sd', 'their standard deviation (n − 1); empty below two'],
  ['sets_apart', 'more or less, where it sets the cup apart from the others at 5 %'],
  ['sets_apart_p', 'p of Cochran’s Q for the attribute, Holm over attributes; empty when untested'],
);

/** The tally of every cup: attributes, then subfamilies and families. */
export function tallyExport(setting: TableSetting, result: TableResult): ExportTable {
  const p = new Map(result.tally.setsApart.attributes.map(({ attribute, pHolm }) => [attribute, pHolm]));
  const rows = setting.cups.flatMap((cup) => {
    const tally = result.tally.cups.find((entry) => entry.cup === String(cup.id));
    if (!tally) return [];
    const start = [tastingName(setting.tasting), cupName(cup), cupContents(cup, setting), cup.kind];
    return [
      ...attributeRows(start, cup, tally, result, p),
      ...groupRows(start, 'subfamily', tally.subfamilies, tally.tasters),
      ...groupRows(start, 'family', tally.families, tally.tasters),
    ];
  });
  return { name: 'tally', columns: TALLY_COLUMNS, rows };
}

function attributeRows(
  start: readonly Cell[],
  cup: Cup,
  tally: CupTally,
  result: TableResult,
  p: ReadonlyMap<string, number>,
): readonly (readonly Cell[])[] {
  const apart = result.tally.setsApart.byCup.get(String(cup.id)) ?? [];
  return tally.attributes.map((entry) => [
    ...start,
    'attribute',
    entry.attribute,
    entry.family,
    entry.tasters,
    tally.tasters,
    ...shareCells(entry),
    entry.denied,
    entry.doubted,
    entry.compared,
    rounded(entry.meanIntensity, 2),
    rounded(entry.intensitySpread, 2),
    apart.find(({ attribute }) => attribute === entry.attribute)?.direction ?? null,
    rounded(p.get(entry.attribute) ?? null, 6),
  ]);
}

function groupRows(
  start: readonly Cell[],
  level: string,
  groups: CupTally['families'],
  noted: number,
): readonly (readonly Cell[])[] {
  return groups.map((group) => [
    ...start,
    level,
    group.name,
    null,
    group.tasters,
    noted,
    ...shareCells(group),
    ...Array.from({ length: 7 }, () => null),
  ]);
}

function shareCells({
  share,
  wilson,
}: Pick<CupTally['families'][number], 'share' | 'wilson'>): readonly Cell[] {
  return [rounded(share, 4), rounded(wilson[0], 4), rounded(wilson[1], 4)];
}

import { cupContents, type TableSetting } from '../record/table-setting.js';
import { type Cup, cupName } from '../record/tasting.js';
import type { TableResult } from '../result/table-result.js';
import type { CupTally } from '../tally/tally.js';
import type { AttributeTrace } from '../trace/trace.js';
import { type CellOf, type ExportTable, exportTable, rounded } from './export-table.js';

/** The tally of every cup: attributes, then subfamilies and families. */
export function tallyExport(setting: TableSetting, { tally }: TableResult): ExportTable {
  type Attribute = CupTally['attributes'][number];
  type Group = CupTally['families'][number];
  type Row = Pick<Group, 'tasters' | 'share' | 'wilson' | 'name'> & {
    readonly cup: Cup;
    readonly noted: number;
    readonly level: 'attribute' | 'subfamily' | 'family';
    readonly own: Attribute | null;
  };
  const rows = setting.cups.flatMap((cup): readonly Row[] => {
    const found = tally.cups.find((entry) => entry.cup === String(cup.id));
    if (!found) return [];
    const shared = { cup, noted: found.tasters };
    const groups = (level: Row['level'], entries: readonly Group[]) =>
      entries.map((entry) => ({ ...entry, ...shared, level, own: null }));
    return [
      ...found.attributes.map(
        (own): Row => ({ ...own, ...shared, level: 'attribute', name: own.attribute, own }),
      ),
      ...groups('subfamily', found.subfamilies),
      ...groups('family', found.families),
    ];
  });
  const p = new Map(tally.setsApart.attributes.map(({ attribute, pHolm }) => [attribute, pHolm]));
  const apart = ({ cup, own }: Row) =>
    tally.setsApart.byCup.get(String(cup.id))?.find(({ attribute }) => attribute === own?.attribute);
  const columns: readonly CellOf<Row>[] = [
    ['cup', 'the cup’s letter, or its code when the table was blind', ({ cup }) => cupName(cup)],
    ['holds', 'what is in the cup', ({ cup }) => cupContents(cup, setting)],
    [
      'kind',
      'component, blend (the recipe as it stands), ratio (weighed) or pour (spooned together)',
      ({ cup }) => cup.kind,
    ],
    ['level', 'attribute, or subfamily or family: everyone who found anything in it', ({ level }) => level],
    ['name', 'the attribute, subfamily or family', ({ name }) => name],
    ['family', 'the family of an attribute; empty for groups', ({ own }) => own?.family ?? null],
    ['tasters', 'distinct tasters whose latest word is that it is there', ({ tasters }) => tasters],
    ['noted', 'distinct tasters who noted the cup', ({ noted }) => noted],
    ['share', 'tasters divided by noted, 0 to 1', ({ share }) => rounded(share, 4)],
    ['share_low', 'lower end of the share’s 95 % Wilson interval', ({ wilson }) => rounded(wilson[0], 4)],
    ['share_high', 'upper end of it', ({ wilson }) => rounded(wilson[1], 4)],
    ['denied', 'tasters whose latest word is that it is not there', ({ own }) => own?.denied ?? null],
    ['doubted', 'of tasters, those in doubt', ({ own }) => own?.doubted ?? null],
    ['compared', 'tasters who only compared it with another cup', ({ own }) => own?.compared ?? null],
    [
      'intensity_mean',
      'mean of the intensities given, 0 to 15; empty when none was',
      ({ own }) => rounded(own?.meanIntensity, 2),
    ],
    [
      'intensity_sd',
      'their standard deviation (n − 1); empty below two',
      ({ own }) => rounded(own?.intensitySpread, 2),
    ],
    [
      'sets_apart',
      'more or less, where it sets the cup apart from the others at 5 %',
      (row) => apart(row)?.direction ?? null,
    ],
    [
      'sets_apart_p',
      'p of Cochran’s Q for the attribute, Holm over attributes; empty when untested',
      ({ own }) => rounded(own && p.get(own.attribute), 6),
    ],
  ];
  return exportTable('tally', setting, columns, rows);
}

/** Where each attribute of the blend comes from, with the interval that its status rests on. */
export function traceExport(setting: TableSetting, { trace }: TableResult): ExportTable {
  type Row = AttributeTrace & { readonly cup: Cup; readonly level: 'attribute' | 'family' };
  const cup = setting.cups.find(({ id }) => String(id) === trace?.blend);
  const rowsAt = (level: Row['level'], traces: readonly AttributeTrace[] = []): readonly Row[] =>
    cup ? traces.map((traced) => ({ ...traced, cup, level })) : [];
  const contents = new Map(setting.cups.map((held) => [String(held.id), cupContents(held, setting)]));
  const columns: readonly CellOf<Row>[] = [
    [
      'cup',
      'the blend traced: the winner’s cup, or the blend as it stands while there is none',
      (row) => cupName(row.cup),
    ],
    ['holds', 'what is in it', (row) => cupContents(row.cup, setting)],
    ['level', 'attribute, or family: everyone who found anything in it', ({ level }) => level],
    ['name', 'the attribute or family', ({ attribute }) => attribute],
    [
      'status',
      'carried, quieted, lifted or new in the blend; within chance where there are too few words to say',
      ({ status }) => status,
    ],
    [
      'brought_by',
      'the components that bring at least half of what is expected, the largest first',
      ({ carriedBy }) => carriedBy.map((id) => contents.get(id) ?? id).join(', ') || null,
    ],
    ['tasters', 'distinct tasters who find it in the blend', ({ blend }) => blend.tasters],
    ['noted', 'distinct tasters who noted the blend', ({ blend }) => blend.noted],
    ['observed', 'tasters divided by noted, 0 to 1', ({ observed }) => rounded(observed, 4)],
    [
      'expected',
      'the components’ shares, each weighed by its part of the blend (our own rule), 0 to 1',
      ({ expected }) => rounded(expected, 4),
    ],
    ['difference', 'observed less expected', ({ difference }) => rounded(difference, 4)],
    [
      'difference_low',
      'lower end of the difference’s 95 % interval (Zou, Huang and Zhang 2009)',
      ({ interval }) => rounded(interval[0], 4),
    ],
    ['difference_high', 'upper end of it', ({ interval }) => rounded(interval[1], 4)],
  ];
  return exportTable('trace', setting, columns, [
    ...rowsAt('attribute', trace?.attributes),
    ...rowsAt('family', trace?.families),
  ]);
}

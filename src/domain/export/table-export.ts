import { latestLikings } from '../next-ratio/likings.js';
import type { ReadNote } from '../record/note.js';
import { cupById, cupContents, ratioCups, type TableSetting } from '../record/table-setting.js';
import { cupName } from '../record/tasting.js';
import type { TableResult } from '../result/table-result.js';
import { shuffle } from '../stats/arrangements.js';
import { seededRandom } from '../stats/seeded-random.js';
import { countingNotes } from '../tally/counted.js';
import { tasterRanks } from '../verdict/taster-ranks.js';
import { type CellOf, type ExportTable, exportTable, rounded } from './export-table.js';
import { tallyExport, traceExport } from './flavour-tables.js';

/** Everything a table found, as tables to take away: nobody's name is in them. */
export function tableExport(
  setting: TableSetting,
  result: TableResult,
  notes: readonly ReadNote[],
): readonly ExportTable[] {
  const numbers = tasterNumbers(
    notes.map(({ person }) => person),
    setting.tasting.seed,
  );
  return [
    tallyExport(setting, result),
    notesExport(setting, notes, numbers),
    placingsExport(setting, result, numbers),
    standingsExport(setting, result),
    traceExport(setting, result),
  ];
}

/**
 * A number for each taster, the same in every file of one table. The order is shuffled by the table's seed, so that
 * a number tells nothing about who came first or whose name begins with what.
 *
 * @returns person → 1, 2, 3 …
 */
function tasterNumbers(people: readonly string[], seed: number): ReadonlyMap<string, number> {
  const shuffled = [...new Set(people)].sort();
  shuffle(shuffled, seededRandom(seed));
  return new Map(shuffled.map((person, index) => [person, index + 1]));
}

/** Every mention of every standing note, and every phrase that found no place; tasters as numbers. */
function notesExport(
  setting: TableSetting,
  notes: readonly ReadNote[],
  numbers: ReadonlyMap<string, number>,
): ExportTable {
  type Row = {
    readonly taster: number;
    readonly nth: number;
    readonly cupId: number | null;
    readonly words: string;
    readonly counted: boolean;
    /** null for words that found no place */
    readonly mention: ReadNote['reading']['mentions'][number] | null;
  };
  const counting = new Set(countingNotes(notes).map(({ id }) => id));
  const names = new Map(setting.cups.map((cup) => [cup.id, cupName(cup)]));
  const written = new Map<string, number>();
  const rows = [...notes]
    .sort((a, b) => Number.parseFloat(a.ts) - Number.parseFloat(b.ts) || a.id - b.id)
    .flatMap(({ id, person, text, reading, chosenCupId, homeCupId }): readonly Row[] => {
      const nth = (written.get(person) ?? 0) + 1;
      written.set(person, nth);
      const start = { taster: numbers.get(person) ?? 0, nth };
      const mentions = reading.mentions.map((mention) => ({
        ...start,
        cupId: mention.cupId,
        words: text.slice(mention.span[0], mention.span[1]),
        counted: mention.cupId !== null && counting.has(id),
        mention,
      }));
      const cupId = chosenCupId ?? homeCupId;
      const unknown = reading.unplaced.map(({ words }) => ({
        ...start,
        ...{ cupId, words, counted: false, mention: null },
      }));
      return [...mentions, ...unknown];
    })
    .sort((a, b) => a.taster - b.taster || a.nth - b.nth);
  const columns: readonly CellOf<Row>[] = [
    [
      'taster',
      'the taster’s number at this table, the same in every file; names are not exported',
      ({ taster }) => taster,
    ],
    [
      'note',
      'counts the taster’s notes in the order of writing: of two words on one attribute the later counts',
      ({ nth }) => nth,
    ],
    [
      'cup',
      'the cup it speaks of; empty when its writer has not said which',
      ({ cupId }) => (cupId === null ? null : (names.get(cupId) ?? null)),
    ],
    [
      'attribute',
      'the attribute; empty for words with no place in the vocabulary',
      ({ mention }) => mention?.attribute ?? null,
    ],
    [
      'says',
      'present, denied, compared (“less than B”) or unknown',
      ({ mention }) => mention?.polarity ?? 'unknown',
    ],
    ['degree', 'slight, plain or strong, as the words say', ({ mention }) => mention?.degree ?? null],
    [
      'intensity',
      '0 to 15, the scale of descriptive analysis; empty when the words give none',
      ({ mention }) => mention?.intensity ?? null,
    ],
    ['doubt', 'yes when it was said with doubt', ({ mention }) => (mention?.doubt ? 'yes' : null)],
    // A person called by name in Slack ("<@U…>") is not named in a file either.
    ['words', 'the words themselves, as written', ({ words }) => words.replace(/<@[^>]*>/g, '@someone')],
    [
      'counted',
      'no for a late note, or one whose cup is not known',
      ({ counted }) => (counted ? 'yes' : 'no'),
    ],
  ];
  return exportTable('notes', setting, columns, rows);
}

/** One row for each cup a taster has placed or rated. */
function placingsExport(
  setting: TableSetting,
  { counted, placings }: TableResult,
  numbers: ReadonlyMap<string, number>,
): ExportTable {
  const ids = ratioCups(setting.cups).map((cup) => String(cup.id));
  const ranks = new Map(tasterRanks(ids, counted, placings).map((row) => [row.taster, row.ranks]));
  const likings = new Map(
    latestLikings(placings).map(({ taster, cup, liking }) => [`${taster} ${cup}`, liking]),
  );
  const rows = [...numbers]
    .flatMap(([person, taster]) =>
      setting.cups.map((cup) => ({
        taster,
        cup,
        rank: ranks.get(person)?.[ids.indexOf(String(cup.id))] ?? null,
        liking: likings.get(`${person} ${cup.id}`) ?? null,
      })),
    )
    .filter(({ rank, liking }) => rank !== null || liking !== null);
  const columns: readonly CellOf<(typeof rows)[number]>[] = [
    ['taster', 'the taster’s number at this table, the same in every file', ({ taster }) => taster],
    ['cup', 'the cup', ({ cup }) => cupName(cup)],
    ['holds', 'what is in it', ({ cup }) => cupContents(cup, setting)],
    [
      'rank',
      'its rank among the ratios this taster placed, 1 the best, ties sharing the middle; empty when never placed',
      ({ rank }) => rank,
    ],
    ['liking', 'the taster’s latest liking, 1 to 9; empty when none was given', ({ liking }) => liking],
  ];
  return exportTable('placings', setting, columns, rows);
}

/** How the ratios stand, best first, with the figures the verdict rests on. */
function standingsExport(setting: TableSetting, { decision }: TableResult): ExportTable {
  const rows = decision.standings.flatMap((standing) => {
    const cup = cupById(setting, standing.id);
    const pair = decision.headToHead.find(({ other }) => other === standing.id);
    return cup ? [{ cup, standing, pair }] : [];
  });
  const columns: readonly CellOf<(typeof rows)[number]>[] = [
    ['cup', 'the ratio’s cup', ({ cup }) => cupName(cup)],
    ['holds', 'what is in it', ({ cup }) => cupContents(cup, setting)],
    [
      'place',
      'its place, cups that stand level sharing the better number; empty when nobody placed it',
      ({ standing }) => standing.place,
    ],
    ['tasters', 'tasters who placed it beside another', ({ standing }) => standing.tasters],
    ['mean_rank', 'mean of its ranks, 1 the best', ({ standing }) => rounded(standing.meanRank, 4)],
    ['rank_sum', 'sum of its ranks', ({ standing }) => standing.rankSum],
    [
      'weighted_rank_sum',
      'Skillings and Mack’s weighted rank sum, which decides when placings are missing; lower is better',
      ({ standing }) => rounded(standing.weightedRankSum, 4),
    ],
    [
      'winner',
      'yes for the ratio the table found',
      ({ standing }) => (standing.id === decision.winner ? 'yes' : null),
    ],
    ['winner_over_it', 'tasters who put the winner over it', ({ pair }) => pair?.wins ?? null],
    ['it_over_winner', 'tasters who put it over the winner', ({ pair }) => pair?.losses ?? null],
    ['level_with_winner', 'tasters who placed both and put neither first', ({ pair }) => pair?.ties ?? null],
    ['p', 'exact two-sided sign test of the winner against it', ({ pair }) => rounded(pair?.p, 6)],
    ['p_holm', 'the same, Holm over the other ratios', ({ pair }) => rounded(pair?.pHolm, 6)],
    [
      'verdict',
      'clear, leaning or too close; the table’s, the same on every row from here on',
      () => decision.verdict,
    ],
    ['test', 'friedman, or skillings-mack when placings are missing', () => decision.test],
    ['p_overall', 'its p: whether the table tells the ratios apart at all', () => rounded(decision.p, 6)],
    [
      'least_significant_rank_difference',
      'at 5 %, on rank sums; empty when placings are missing',
      () => rounded(decision.leastSignificantRankDifference, 3),
    ],
    [
      'kendall_w',
      'agreement of the tasters who placed every ratio, 0 to 1',
      () => rounded(decision.kendallW?.w, 4),
    ],
  ];
  return exportTable('standings', setting, columns, rows);
}

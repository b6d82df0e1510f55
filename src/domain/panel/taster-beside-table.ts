import type { CountedNote } from '../tally/counted.js';
import { type LatestWords, latestWords } from '../tally/latest-words.js';

/** One attribute of one cup as a taster and the rest of the table saw it. */
export type BesideTable = {
  readonly cup: string;
  readonly attribute: string;
  /** other tasters who found it, of the others who noted the cup */
  readonly others: number;
  readonly ofOthers: number;
};

/** How one taster's notes sit beside the table's. For that taster's eyes only. */
export type TasterBesideTable = {
  readonly taster: string;
  /** cups the taster noted */
  readonly cups: number;
  /** attributes the taster found, over all cups */
  readonly found: number;
  /** found by the taster and at least one other, the most shared first */
  readonly shared: readonly BesideTable[];
  /** found by the taster and, of three others or more, by nobody else */
  readonly alone: readonly BesideTable[];
  /** found by at least two thirds of three others or more, and not by the taster, the most shared first */
  readonly missed: readonly BesideTable[];
};

const FEWEST_OTHERS = 3;
const MOST_OF_TABLE = 2 / 3;

function foundBy(words: LatestWords, cup: string, attribute: string): readonly string[] {
  return [...(words.get(cup) ?? [])]
    .filter(([, said]) => said.words.get(attribute)?.present)
    .map(([taster]) => taster);
}

function attributesIn(words: LatestWords, cup: string): readonly string[] {
  return [...new Set([...(words.get(cup)?.values() ?? [])].flatMap((said) => [...said.words.keys()]))];
}

function mostShared(a: BesideTable, b: BesideTable): number {
  const byShare = b.others / b.ofOthers - a.others / a.ofOthers;
  return byShare || (`${a.cup} ${a.attribute}` < `${b.cup} ${b.attribute}` ? -1 : 1);
}

/** Sets each taster's standing words beside those of the others at the table, cup by cup. No scores, no ranks. */
export function tastersBesideTable(
  cups: readonly string[],
  notes: readonly CountedNote[],
): readonly TasterBesideTable[] {
  const words = latestWords(notes);
  const tasters = new Set(cups.flatMap((cup) => [...(words.get(cup)?.keys() ?? [])]));
  const found = cups.flatMap((cup) =>
    attributesIn(words, cup).map((attribute) => ({ cup, attribute, by: foundBy(words, cup, attribute) })),
  );
  return [...tasters].sort().map((taster) => {
    const noted = new Set(cups.filter((cup) => words.get(cup)?.has(taster)));
    const beside = found
      .filter(({ cup }) => noted.has(cup))
      .map(({ cup, attribute, by }) => {
        const own = by.includes(taster);
        const ofOthers = (words.get(cup)?.size ?? 1) - 1;
        return { own, line: { cup, attribute, others: by.length - (own ? 1 : 0), ofOthers } };
      });
    const lines = (own: boolean, keep: (line: BesideTable) => boolean) =>
      beside
        .filter((item) => item.own === own && keep(item.line))
        .map(({ line }) => line)
        .sort(mostShared);
    return {
      taster,
      cups: noted.size,
      found: beside.filter(({ own }) => own).length,
      shared: lines(true, ({ others }) => others > 0),
      alone: lines(true, ({ others, ofOthers }) => others === 0 && ofOthers >= FEWEST_OTHERS),
      missed: lines(
        false,
        ({ others, ofOthers }) => ofOthers >= FEWEST_OTHERS && others >= MOST_OF_TABLE * ofOthers,
      ),
    };
  });
}

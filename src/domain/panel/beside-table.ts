import { counted, plainList } from '../measure/plain-list.js';
import { type CountedNote, type LatestWords, latestWords, type Placing } from '../tally/counted.js';
import { type TasterRanks, tasterRanks } from '../verdict/taster-ranks.js';

/** One attribute of one cup as a taster and the rest of the table saw it. */
type BesideTable = {
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

/** Who found an attribute in a cup. */
export function foundBy(words: LatestWords, cup: string, attribute: string): readonly string[] {
  return [...(words.get(cup) ?? [])]
    .filter(([, said]) => said.words.get(attribute)?.present)
    .map(([taster]) => taster);
}

/** Every attribute that somebody found or missed in a cup. */
export function attributesIn(words: LatestWords, cup: string): readonly string[] {
  return [...new Set([...(words.get(cup)?.values() ?? [])].flatMap((said) => [...said.words.keys()]))];
}

function mostFoundFirst(a: BesideTable, b: BesideTable): number {
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
        .sort(mostFoundFirst);
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

/** How a cup is called when speaking to one taster. */
type NameOfCup = (cup: string) => string;

const MOST_NAMED = 3;

/** The first few of them, with how many others found each unless nobody did. */
function inWords(lines: readonly BesideTable[], nameOfCup: NameOfCup): string {
  return plainList(
    lines.slice(0, MOST_NAMED).map(({ cup, attribute, others, ofOthers }) => {
      const found = others === 0 ? '' : ` (${others} of the ${ofOthers} others)`;
      return `${attribute} in ${nameOfCup(cup)}${found}`;
    }),
  );
}

/**
 * What a taster is told, privately, after closing: what they shared with the table, what they alone found, and what
 * most others found. Nobody is ranked, and nobody else is named.
 *
 * @returns sentences in the order to say them; one alone when there is nobody to compare with
 */
export function tasterSentences(beside: TasterBesideTable, nameOfCup: NameOfCup): readonly string[] {
  const { shared, alone, missed } = beside;
  const opening = `You noted ${counted(beside.cups, 'cup')} and found ${counted(beside.found, 'attribute')}.`;
  const told: string[] = [opening];
  if (shared.length > 0) {
    told.push(
      `The table tasted ${shared.length === 1 ? 'one of them' : `${shared.length} of them`} too, among them ${inWords(shared, nameOfCup)}.`,
    );
  }
  if (alone.length > 0) {
    told.push(
      `You alone found ${inWords(alone, nameOfCup)}. One taster can be the first to notice something: worth a second sip.`,
    );
  }
  if (missed.length > 0) {
    told.push(
      `Most others found ${inWords(missed, nameOfCup)}. If you taste those cups again, see whether you meet it.`,
    );
  }
  if (told.length === 1) told.push('There were too few other notes on your cups to set yours beside them.');
  return told;
}

/** Whom a taster put first, and how many of the others did too. For that taster's eyes only. */
export type PlacingBesideTable = {
  readonly taster: string;
  /** the cup or cups the taster put first */
  readonly first: readonly string[];
  /** others who put (one of) the same first */
  readonly others: number;
  /** others who placed a cup the taster put first beside another one */
  readonly ofOthers: number;
};

function firstsOf(cups: readonly string[], { taster, ranks }: TasterRanks) {
  const placed = cups.flatMap((cup, index) => {
    const rank = ranks[index] ?? null;
    return rank === null ? [] : [{ cup, rank }];
  });
  const best = Math.min(...placed.map(({ rank }) => rank));
  return {
    taster,
    placed: new Set(placed.map(({ cup }) => cup)),
    first: placed.filter(({ rank }) => rank === best).map(({ cup }) => cup),
  };
}

/** Sets each taster's first choice beside the others'. Tasters who tied everything they placed have none. */
export function placingsBesideTable(
  ratioCups: readonly string[],
  notes: readonly CountedNote[],
  placings: readonly Placing[],
): readonly PlacingBesideTable[] {
  const all = tasterRanks(ratioCups, notes, placings)
    .map((ranked) => firstsOf(ratioCups, ranked))
    .filter(({ placed }) => placed.size > 1);
  return all
    .filter(({ first, placed }) => first.length < placed.size)
    .map(({ taster, first }) => {
      const able = all.filter(
        (other) => other.taster !== taster && first.some((cup) => other.placed.has(cup)),
      );
      const alike = able.filter((other) => first.some((cup) => other.first.includes(cup)));
      return { taster, first, others: alike.length, ofOthers: able.length };
    });
}

/** One kind sentence about it, naming nobody. */
export function placingSentence(beside: PlacingBesideTable, nameOfCup: NameOfCup): string {
  const first = beside.first.map(nameOfCup).join(' and ');
  if (beside.ofOthers === 0) return `You put ${first} first.`;
  const all = beside.ofOthers === 1 ? 'the one other taster' : `the ${beside.ofOthers} others`;
  if (beside.others === 0) return `You put ${first} first, unlike ${all}: a preference, not a mistake.`;
  if (beside.others < beside.ofOthers)
    return `You put ${first} first, and so did ${beside.others} of ${all}.`;
  return `You put ${first} first, and so did ${beside.ofOthers === 1 ? all : `all ${beside.ofOthers} others`}.`;
}

import type { HouseFacts } from '../house/house-facts.js';
import { type NextRatio, nextRatio } from '../next-ratio/next-ratio.js';
import type { Vocabulary } from '../notes/vocabulary.js';
import { joinedRatio } from '../production/joined-ratio.js';
import { type ProductionPlan, productionNote } from '../production/production-note.js';
import { type MeasuredLosses, NOTHING_MEASURED } from '../production/roast-groups.js';
import { sameRatio } from '../ratio/parts.js';
import type { Coffee } from '../record/coffee.js';
import type { ReadNote } from '../record/note.js';
import { cupById, partsInRecipeOrder, ratioCups, type TableSetting } from '../record/table-setting.js';
import type { Cup } from '../record/tasting.js';
import {
  attributeTree,
  type CountedNote,
  countedNotes,
  countingNotes,
  latestWords,
  type Placing,
  placingsIn,
} from '../tally/counted.js';
import { type TableTally, tallyTable } from '../tally/tally.js';
import { type BlendTrace, traceBlend } from '../trace/trace.js';
import { type RankTable, rankTable } from '../verdict/rank-table.js';
import { tasterRanks } from '../verdict/taster-ranks.js';
import { decideWinner, type WinnerDecision } from '../verdict/verdict.js';
import { type TableBrief, tableBrief } from './table-brief.js';

/** Everything a table found, from its notes alone. Cups are named by their id as text. */
export type TableResult = {
  readonly tally: TableTally;
  readonly decision: WinnerDecision;
  /** Of the winner, or of the blend as it stands while there is none. */
  readonly trace: BlendTrace | null;
  /** Ranks each ratio was given by those who placed two or more, 1 the best. */
  readonly ranks: ReadonlyMap<string, readonly number[]>;
  readonly notes: number;
  readonly tasters: number;
  /** How the ratios meet the host's brief, beside all this; null when there is none. */
  readonly brief: TableBrief | null;
  /** The words and placings that everything is worked out from. */
  readonly counted: readonly CountedNote[];
  readonly placings: readonly Placing[];
};

type ResultInput = {
  readonly setting: TableSetting;
  readonly notes: readonly ReadNote[];
  readonly house: HouseFacts;
  readonly vocabulary: Vocabulary;
  /** Cup the host chose, when ranks and cost leave ratios level, or against the table. */
  readonly hostChoice: number | null;
};

/** Works out tally, verdict and trace of one table. */
export function tableResult({ setting, notes, house, vocabulary, hostChoice }: ResultInput): TableResult {
  const counting = countingNotes(notes);
  const counted = countedNotes(counting);
  const words = latestWords(counted);
  const cups = setting.cups.map((cup) => String(cup.id));
  const tally = tallyTable({ cups, words, tree: attributeTree(vocabulary) });
  const placings = placingsIn(counting);
  const ratios = ratioCups(setting.cups).map((cup) => ({
    id: String(cup.id),
    costPerKgCents: costPerKg(cup, setting, house),
  }));
  const ratioIds = ratios.map(({ id }) => id);
  const table = rankTable(ratioIds, tasterRanks(ratioIds, counted, placings));
  const decision = decideWinner({
    ratioCups: ratios,
    table,
    hostChoice: hostChoice === null ? null : String(hostChoice),
  });
  const chosen =
    cupById(setting, hostChoice ?? decision.winner ?? '') ?? setting.cups.find((cup) => cup.kind === 'blend');
  return {
    tally,
    decision,
    ranks: new Map(decision.standings.map(({ id }) => [id, ranksOf(id, table)])),
    trace: chosen ? traceOf(chosen, setting, tally) : null,
    notes: counting.length,
    tasters: new Set(counting.map((note) => note.person)).size,
    brief: tableBrief(setting.tasting.brief, ratioIds, words, vocabulary),
    counted,
    placings,
  };
}

/** What a production note of one ratio cup is worked out from, with the losses the house's own roasts showed. */
export function productionPlan(
  cup: Cup,
  setting: TableSetting,
  finishedMg: number,
  measured: MeasuredLosses = NOTHING_MEASURED,
): ProductionPlan {
  const { parts, wholeGroups, groupLossBp } = joinedRatio(cup.parts, setting.recipe);
  const groups = new Map([...measured.groups].filter(([group]) => wholeGroups.has(group)));
  return {
    parts,
    coffees: parts.flatMap((part): readonly Coffee[] => {
      const coffee = setting.coffees.get(part.coffeeId);
      return coffee ? [coffee] : [];
    }),
    groupLossBp,
    measured: { ...measured, groups },
    finishedMg,
    pouredOnly: cup.kind === 'pour',
  };
}

/** The ratio cup a decided table goes on with; undefined before, and when it was decided without one. */
export function winnerOf(setting: TableSetting): Cup | undefined {
  const { winnerCupId } = setting.tasting;
  return winnerCupId === null ? undefined : cupById(setting, winnerCupId);
}

function ranksOf(id: string, { ids, rows }: RankTable): readonly number[] {
  const column = ids.indexOf(id);
  return rows.flatMap((row) => row[column] ?? []);
}

const ONE_KG = 1_000_000;

function costPerKg(cup: Cup, setting: TableSetting, house: HouseFacts): number | null {
  const { cost } = productionNote(productionPlan(cup, setting, ONE_KG), house);
  return cost.ok ? cost.cost.perKgCents : null;
}

function traceOf(blend: Cup, setting: TableSetting, tally: TableTally): BlendTrace {
  const components = blend.parts.flatMap((part) => {
    const alone = setting.cups.find(
      (cup) => cup.kind === 'component' && cup.parts[0]?.coffeeId === part.coffeeId,
    );
    return alone ? [{ cup: String(alone.id), parts: part.parts }] : [];
  });
  return traceBlend({ blend: String(blend.id), components, tally });
}

/** The next ratio worth pouring at a table, parts in recipe order, and the cup that holds it already, if one does. */
export type TableNext = NextRatio & { readonly held: Cup | null };

/** A step, not a leap: no coffee's share moves further than this from the winner's (a rule of our own). */
const STEP = 0.15;

/** What the likings of a table suggest pouring next, every cup being a point of the mixture of the recipe's coffees. */
export function nextAtTable(setting: TableSetting, result: TableResult): TableNext {
  const { cups, recipe } = setting;
  const next = nextRatio({
    cups: cups
      .map((cup) => ({ cup: String(cup.id), parts: partsInRecipeOrder(cup, recipe) }))
      .filter(({ parts }) => parts.some((part) => part > 0)),
    placings: result.placings,
    winner: result.decision.winner,
    reach: STEP,
  });
  const { suggestion } = next;
  const held = suggestion
    ? ratioCups(cups).find((cup) => sameRatio(partsInRecipeOrder(cup, recipe), suggestion.parts))
    : undefined;
  return { ...next, held: held ?? null };
}

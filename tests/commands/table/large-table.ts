import type { TableView } from '../../../src/commands/common/table-view.js';
import { DEFAULT_HOUSE } from '../../../src/domain/house/house-facts.js';
import { SHIPPED_VOCABULARY } from '../../../src/domain/notes/vocabulary.js';
import type { Coffee } from '../../../src/domain/record/coffee.js';
import type { NotedMention, NoteReading, ReadNote } from '../../../src/domain/record/note.js';
import type { Cup } from '../../../src/domain/record/tasting.js';
import { type DrawBelow, seededRandom } from '../../../src/domain/stats/seeded-random.js';

const RATIOS = [
  [50, 30, 20],
  [2, 1, 1],
  [40, 40, 20],
  [3, 2, 1],
  [1, 1, 1],
  [1, 2, 1],
  [5, 2, 3],
  [3, 1, 1],
  [2, 2, 1],
];
const ATTRIBUTES = [...SHIPPED_VOCABULARY.attributes.keys()].slice(0, 60);

function coffee(id: number, name: string): Coffee {
  return {
    id,
    name,
    origin: 'Peru',
    process: 'washed',
    role: 'base',
    level: 'medium',
    soldAlone: true,
    lossBp: 1550,
    greenPriceCents: 700 + id * 100,
    greenMg: null,
    moistureBp: null,
    densityGPerL: null,
    screen: null,
    colour: null,
    flavourAdded: null,
    remarks: null,
  };
}

function cup(id: number, kind: Cup['kind'], parts: readonly number[]): Cup {
  return {
    id,
    tastingId: 1,
    position: id - 1,
    label: String.fromCharCode(64 + id),
    code: null,
    kind,
    parts: parts.flatMap((part, index) => (part > 0 ? [{ coffeeId: index + 1, parts: part }] : [])),
    droppedAt: null,
  };
}

/** A closed table of three coffees alone and nine ratios. */
export function largeView(): TableView {
  const at = new Date('2026-11-13T14:00:00Z');
  const coffees = [coffee(1, 'Chirinos'), coffee(2, 'Kayanza Hill'), coffee(3, 'Nubosa Natural')];
  return {
    tasting: {
      id: 1,
      number: 1,
      recipeVersionId: 1,
      channel: 'C1',
      host: 'U1',
      startsAt: at,
      state: 'closed',
      blind: false,
      format: 'brewed',
      tables: 1,
      seed: 7,
      brief: 'chocolate, heavy body, no sourness',
      batchMg: null,
      openedAt: at,
      closedAt: at,
      decidedAt: null,
      winnerCupId: null,
      decidedRule: null,
      signedOffBy: null,
      tallyShown: true,
      invited: [],
    },
    recipe: {
      id: 1,
      name: 'Harbour Lamp',
      versionId: 1,
      version: 1,
      parts: [50, 30, 20].map((parts, index) => ({ coffeeId: index + 1, parts, roastGroup: null })),
      groupLossBp: new Map(),
    },
    cups: [
      ...[0, 1, 2].map((alone) =>
        cup(
          alone + 1,
          'component',
          [0, 1, 2].map((own) => (own === alone ? 1 : 0)),
        ),
      ),
      ...RATIOS.map((parts, index) => cup(index + 4, index === 0 ? 'blend' : 'ratio', parts)),
    ],
    coffees: new Map(coffees.map((one) => [one.id, one])),
    house: DEFAULT_HOUSE,
    readiness: [],
    asked: [],
    counts: { notes: 0, tasters: 0 },
    afterClosing: 0,
    fired: [],
    stopped: null,
    cancelledBy: null,
  };
}

/**
 * A note on every cup (five words each, one cup in twelve skipped) and, in a note of its own, a liking of every ratio,
 * by each taster: the ratio E is liked three points more.
 */
export function largeNotes(tasters: number): readonly ReadNote[] {
  const draw = seededRandom(tasters);
  return Array.from({ length: tasters }, (_, taster) => taster).flatMap((taster) => {
    const noted = CUP_IDS.filter(() => draw(12) !== 0);
    const words = noted.map((cupId) => ({ ...NOTHING_SAID, mentions: fiveWords(cupId, draw) }));
    const liking = new Map(
      CUP_IDS.slice(3).map((cupId) => [cupId, Math.min(9, 1 + draw(6) + (cupId === E ? 3 : 0))]),
    );
    return [...words, { ...NOTHING_SAID, liking }].map((reading, place) => readNote(taster, place, reading));
  });
}

const CUP_IDS = Array.from({ length: 12 }, (_, index) => index + 1);
const E = 5;

const NOTHING_SAID: NoteReading = {
  mentions: [],
  order: null,
  liking: new Map(),
  worst: [],
  needsCup: false,
  unplaced: [],
};

function fiveWords(cupId: number, draw: DrawBelow): readonly NotedMention[] {
  return Array.from({ length: 5 }, () => ({
    cupId,
    attribute: ATTRIBUTES[(draw(30) + cupId * 3) % ATTRIBUTES.length] ?? '',
    polarity: draw(10) === 0 ? 'denied' : 'present',
    degree: 'plain',
    intensity: draw(3) === 0 ? draw(16) : null,
    doubt: draw(10) === 0,
    span: [0, 2],
  }));
}

function readNote(taster: number, place: number, reading: NoteReading): ReadNote {
  const second = 1_800_000_000 + taster * 20 + place;
  return {
    id: taster * 20 + place + 1,
    tastingId: 1,
    source: 'thread',
    channel: 'C1',
    ts: `${second}.000100`,
    threadTs: '1799999999.000100',
    person: `U${taster + 10}`,
    homeCupId: reading.mentions[0]?.cupId ?? null,
    chosenCupId: null,
    text: 'as read',
    late: false,
    receivedAt: new Date(second * 1000),
    reading,
  };
}

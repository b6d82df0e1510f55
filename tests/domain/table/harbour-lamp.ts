import { DEFAULT_HOUSE, type HouseFacts } from '../../../src/domain/house/house-facts.js';
import type { Coffee } from '../../../src/domain/record/coffee.js';
import type { TableSheetPlan } from '../../../src/domain/table/table-sheet.js';

/** Fernhollow's house: Lisbon, roast days Tuesday and Thursday, a 15 kg drum and a 1 kg sample roaster. */
export const FERNHOLLOW: HouseFacts = { ...DEFAULT_HOUSE, timeZone: 'Europe/Lisbon' };

const UNKNOWN = {
  lossBp: null,
  greenPriceCents: null,
  greenMg: null,
  moistureBp: null,
  densityGPerL: null,
  screen: null,
  colour: null,
  flavourAdded: null,
  remarks: null,
  level: 'medium',
} as const;

export const CHIRINOS: Coffee = {
  ...UNKNOWN,
  id: 1,
  name: 'Chirinos',
  origin: 'Peru',
  process: 'washed',
  role: 'base',
  soldAlone: false,
};
export const KAYANZA_HILL: Coffee = {
  ...UNKNOWN,
  id: 2,
  name: 'Kayanza Hill',
  origin: 'Burundi',
  process: 'washed',
  role: 'sweetness',
  soldAlone: true,
};
export const NUBOSA_NATURAL: Coffee = {
  ...UNKNOWN,
  id: 3,
  name: 'Nubosa Natural',
  origin: 'Costa Rica',
  process: 'natural',
  role: 'highlight',
  soldAlone: true,
};

const THREE = [CHIRINOS, KAYANZA_HILL, NUBOSA_NATURAL];

function blendOf(parts: readonly number[]) {
  return THREE.map((coffee, index) => ({ coffeeId: coffee.id, parts: parts[index] ?? 0 }));
}

function cup(
  label: string,
  code: string | null,
  kind: 'component' | 'blend' | 'ratio' | 'pour',
  parts: readonly number[],
) {
  return { label, code, kind, parts: blendOf(parts).filter((part) => part.parts > 0), droppedAt: null };
}

/** Harbour Lamp on the table: three coffees alone, the blend 50/30/20 and 2:1:1, Friday 27 November at 14:00. */
export function harbourLampTable(blind: boolean): TableSheetPlan {
  const code = (text: string) => (blind ? text : null);
  return {
    name: 'T4',
    blendName: 'Harbour Lamp',
    host: 'Ines',
    start: new Date('2026-11-27T14:00:00Z'),
    format: 'cupping',
    blind,
    tables: 1,
    seed: 7,
    tasters: ['Noor', 'Teo', 'Mika', 'Sol', 'Wren', 'Jun'],
    cups: [
      cup('A', code('417'), 'component', [1, 0, 0]),
      cup('B', code('862'), 'component', [0, 1, 0]),
      cup('C', code('259'), 'component', [0, 0, 1]),
      cup('D', code('634'), 'blend', [50, 30, 20]),
      cup('E', code('391'), 'ratio', [2, 1, 1]),
    ],
    coffees: THREE,
    poursToCome: 0,
  };
}

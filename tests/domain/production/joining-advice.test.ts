import { describe, expect, test } from 'vitest';
import { joiningAdvice } from '../../../src/domain/production/joining-advice.js';
import { nearestCoffees, profileSimilarity } from '../../../src/domain/production/stand-in.js';
import { CHIRINOS, KAYANZA_HILL, NUBOSA_NATURAL } from '../table/harbour-lamp.js';

const MEASURED = { moistureBp: 1100, densityGPerL: 720, screen: 16, colour: 63 };
const chirinos = { ...CHIRINOS, ...MEASURED };

// Thresholds for roasting apart: a proposal without source (moisture 1 point, density 40 g/L, screen 2, colour 5, washed
// with natural or honey).
describe('joining green', () => {
  test('is worth a trial when everything is alike', () => {
    expect(
      joiningAdvice(chirinos, {
        ...KAYANZA_HILL,
        ...MEASURED,
        moistureBp: 1200,
        densityGPerL: 760,
        screen: 17,
        colour: 58,
      }),
    ).toEqual({
      verdict: 'trial',
      said: 'Chirinos and Kayanza Hill are alike enough for a trial of joining them green; taste it beside this cup.',
    });
  });

  test.each([
    [{ moistureBp: 1210 }, 'moisture differs by 1.1 points'],
    [{ densityGPerL: 761 }, 'density differs by 41 g/L'],
    [{ screen: 18 }, 'screen differs by 2'],
    [{ colour: 57 }, 'wanted colours are 6 apart'],
    [{ process: 'natural' as const }, 'one is washed, the other natural'],
    [{ process: 'honey' as const }, 'one is washed, the other honey'],
  ])('is spoken against by %o', (difference, reason) => {
    expect(joiningAdvice(chirinos, { ...KAYANZA_HILL, ...MEASURED, ...difference })).toEqual({
      verdict: 'apart',
      said: `Roast Chirinos and Kayanza Hill apart: ${reason}.`,
    });
  });

  test('asks for measurements that are missing, unless something speaks against it anyway', () => {
    expect(joiningAdvice(CHIRINOS, KAYANZA_HILL)).toEqual({
      verdict: 'unknown',
      said: 'Chirinos with Kayanza Hill: measure moisture, density, screen and wanted colour before a trial of joining them green.',
    });
    expect(joiningAdvice(CHIRINOS, NUBOSA_NATURAL)).toEqual({
      verdict: 'apart',
      said: 'Roast Chirinos and Nubosa Natural apart: one is washed, the other natural.',
    });
  });
});

describe('likeness of profiles', () => {
  // scipy documentation of spatial.distance.cosine: distances 0.29289321881345254 and 1.0.
  test('agrees with the reference library', () => {
    const profile = (values: readonly number[]) =>
      new Map(values.map((value, index) => [`attribute ${index}`, value]));
    expect(profileSimilarity(profile([1, 1, 0]), profile([0, 1, 0]))).toBeCloseTo(
      1 - 0.29289321881345254,
      12,
    );
    expect(profileSimilarity(profile([1, 0, 0]), profile([0, 1, 0]))).toBe(0);
  });

  test('has no meaning without notes', () => {
    expect(profileSimilarity(new Map(), new Map([['lemon', 1]]))).toBeNull();
  });

  test('a coffee never tasted comes before one that is nothing alike, and after one that is', () => {
    const profile = new Map([['lemon', 3]]);
    const candidate = (id: number, name: string, tasted: readonly [string, number][]) => ({
      coffee: { ...KAYANZA_HILL, id, name },
      profile: new Map(tasted),
      availableMg: 1,
    });
    const order = nearestCoffees({ coffee: KAYANZA_HILL, profile }, [
      candidate(11, 'Other', [['cocoa', 2]]),
      candidate(12, 'Untasted', []),
      candidate(13, 'Alike', [['lemon', 1]]),
    ]);
    expect(order.map((near) => near.name)).toEqual(['Alike', 'Untasted', 'Other']);
    expect(order[1]?.said).toBe('Untasted: never tasted beside it, the same role.');
  });
});

/**
 * Names of the colours on the "Gourmet" infrared scale, where higher is lighter (SCA(A) roast colour discs,
 * from memory).
 */
const COLOUR_NAMES: readonly (readonly [number, string])[] = [
  [90, 'very light'],
  [80, 'light'],
  [70, 'moderately light'],
  [60, 'light-medium'],
  [50, 'medium'],
  [40, 'moderately dark'],
  [30, 'dark'],
  [0, 'very dark'],
];

/** The name of a colour reading: 63 is "light-medium". Discs lie 10 apart; the nearest one names it. */
export function colourName(colour: number): string {
  return COLOUR_NAMES.find(([from]) => colour >= from)?.[1] ?? 'very dark';
}

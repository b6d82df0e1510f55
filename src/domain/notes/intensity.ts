import type { Degree } from './reading.js';

/**
 * A degree on the 0–15 intensity scale of descriptive analysis (0 none, 15 extreme). Where the words put
 * it there is a rule of our own: slight 4, strong 12; a word without degree claims no number.
 */
export function degreeIntensity(degree: Degree): number | null {
  if (degree === 'plain') return null;
  return degree === 'slight' ? 4 : 12;
}

import { plainNumber } from './weight.js';

/** Hundredths of a percent in the whole: 10 000. */
export const WHOLE_BP = 10_000;

/** "15.5 %" from 1550 hundredths of a percent. */
export function formatBp(bp: number): string {
  return `${plainNumber(bp / 100, 2)} %`;
}

/** Reads "15.5 %", "15,5" or "15.5 percent" as hundredths of a percent; null when it is none from 0 to 100. */
export function parseBp(text: string): number | null {
  const bare = text
    .trim()
    .replace(/\s*(?:%|percent|points?)$/iu, '')
    .replace(',', '.');
  if (!/^\d{1,3}(?:\.\d{1,2})?$/u.test(bare)) return null;
  const bp = Math.round(Number(bare) * 100);
  return bp <= WHOLE_BP ? bp : null;
}

import { type Parts, percentages, smallestParts } from './parts.js';

/** A ratio as it is said: "50/30/20" when it adds up to 100, else its smallest parts "2:1:1". */
export function formatRatio(parts: Parts): string {
  const sum = parts.reduce((total, part) => total + part, 0);
  return sum === 100 ? parts.join('/') : smallestParts(parts).join(':');
}

/** Percentages with as many decimals as asked that add up to 100: "33.4 / 33.3 / 33.3 %". */
export function formatPercentages(parts: Parts, decimals = 1): string {
  const shown = percentages(parts, decimals);
  const whole = shown.every((share) => Number.isInteger(share));
  return `${shown.map((share) => share.toFixed(whole ? 0 : decimals)).join(' / ')} %`;
}

/** "Chirinos 50 %, Kayanza Hill 30 %, Nubosa Natural 20 %", leaving out coffees with no part. */
export function nameRatio(parts: Parts, names: readonly string[]): string {
  const shown = percentages(parts, 1);
  const named = names.map((name, index) => ({ name, part: parts[index] ?? 0, share: shown[index] ?? 0 }));
  return named
    .filter((entry) => entry.part > 0)
    .map((entry) => `${entry.name} ${entry.share} %`)
    .join(', ');
}

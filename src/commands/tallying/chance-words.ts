/** A p-value as a newcomer can picture it: "about once in 300 tables", "at about 9 tables in 10". */
export function howOftenByLuck(p: number): string {
  if (p < 0.001) return 'less than once in 1000 tables';
  if (p >= 0.95) return 'at nearly every table';
  if (p >= 0.3) return `at about ${Math.round(p * 10)} tables in 10`;
  return `about once in ${roundly(1 / p)} tables`;
}

/** A whole number with no more figures than luck deserves: 3, 17, 30, 300. */
function roundly(value: number): number {
  const step = value < 20 ? 1 : value < 100 ? 10 : value < 300 ? 50 : 100;
  return Math.round(value / step) * step;
}

/** Limits that a verdict is held to: a p-value just below one is never rounded onto it. */
const LIMITS = [0.05, 0.2] as const;

/** "= 0.03", "< 0.001", "< 0.05" for 0.0498: never more certainty than there is, and on the right side of a limit. */
export function formatP(p: number): string {
  if (p < 0.001) return '< 0.001';
  const just = LIMITS.find((limit) => p < limit && Number(p.toFixed(p < 0.095 ? 3 : 2)) >= limit);
  if (just !== undefined) return `< ${just}`;
  return `= ${p < 0.095 ? p.toFixed(3).replace(/0$/, '') : p.toFixed(2)}`;
}

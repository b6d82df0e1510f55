/** Milligrams in one international avoirdupois pound (0.45359237 kg by definition, 1959). */
export const MG_PER_POUND = 453_592.37;
/** Milligrams in one avoirdupois ounce, a sixteenth of a pound. */
export const MG_PER_OUNCE = MG_PER_POUND / 16;

/** What a house reads: grams alone, or pounds and ounces beside them. */
export type UnitSystem = 'metric' | 'pounds';

/** A number without trailing zeros: 11.40 is "11.4", 400 is "400". */
export function plainNumber(value: number, decimals: number): string {
  return String(Number(value.toFixed(decimals)));
}

/**
 * Grams, or kilograms from 1 kg up, exactly as held: "8.25 g", "412.5 g", "5.92 kg". Nothing is rounded
 * here, so weights that add up in milligrams add up on the page.
 */
export function formatGrams(mg: number): string {
  const whole = Math.round(mg);
  if (Math.abs(whole) >= 1_000_000 && whole % 1000 === 0) return `${plainNumber(whole / 1_000_000, 3)} kg`;
  return `${plainNumber(whole / 1000, 3)} g`;
}

/** Pounds and ounces to a tenth of an ounce: "13 lb 0.8 oz", "14.1 oz". */
export function formatPounds(mg: number): string {
  const tenths = Math.round((mg / MG_PER_OUNCE) * 10);
  const pounds = Math.trunc(tenths / 160);
  const ounces = plainNumber((tenths - pounds * 160) / 10, 1);
  if (pounds === 0) return `${ounces} oz`;
  return ounces === '0' ? `${pounds} lb` : `${pounds} lb ${ounces} oz`;
}

/** Grams, with pounds and ounces beside them where the house wants both. */
export function formatWeight(mg: number, unitSystem: UnitSystem): string {
  return unitSystem === 'metric' ? formatGrams(mg) : `${formatGrams(mg)} (${formatPounds(mg)})`;
}

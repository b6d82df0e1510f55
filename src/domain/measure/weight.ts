/** Milligrams in one international avoirdupois pound (0.45359237 kg by definition, 1959). */
export const MG_PER_POUND = 453_592.37;
/** Milligrams in one avoirdupois ounce, a sixteenth of a pound. */
const MG_PER_OUNCE = MG_PER_POUND / 16;

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

const UNITS = [
  { mg: 1, called: ['mg'] },
  { mg: 1000, called: ['g', 'gr', 'gram', 'grams'] },
  { mg: 1_000_000, called: ['kg', 'kilo', 'kilos'] },
  { mg: MG_PER_OUNCE, called: ['oz', 'ounce', 'ounces'] },
  { mg: MG_PER_POUND, called: ['lb', 'lbs', 'pound', 'pounds'] },
];
const HEAVIEST_MG = 100_000_000_000;
const HOW_TO = 'Say it like 400g, 1.2 kg or 14 oz.';

/** A weight in whole milligrams, or a kind sentence that says what to type instead. */
export type ParsedWeight =
  | { readonly ok: true; readonly mg: number }
  | { readonly ok: false; readonly message: string };

/**
 * Reads a weight as people type it: "400g", "1.2 kg", "1,2 kg", "1 200 g", "14 oz", "2 lb 3 oz". A bare
 * number is refused, because grams and pounds are a factor of 450 apart.
 */
export function parseWeight(text: string): ParsedWeight {
  const said = text.trim().toLowerCase();
  const pieces = [...said.matchAll(/(\d[\d  ]*(?:[.,]\d+)?)\s*([a-z]+)?\.?/gu)];
  const rest = pieces.reduce((left, piece) => left.replace(piece[0], ''), said).replace(/and|,|\s/gu, '');
  if (pieces.length === 0 || rest !== '')
    return { ok: false, message: `I could not read “${text.trim()}” as a weight. ${HOW_TO}` };
  let mg = 0;
  for (const [, digits = '', unit = ''] of pieces) {
    const perUnit = UNITS.find(({ called }) => called.includes(unit))?.mg;
    if (perUnit === undefined) {
      const message =
        unit === '' ? `${digits.trim()} of what? ${HOW_TO}` : `I do not know the unit “${unit}”. ${HOW_TO}`;
      return { ok: false, message };
    }
    mg += readDigits(digits, unit) * perUnit;
  }
  if (mg > HEAVIEST_MG)
    return { ok: false, message: `“${text.trim()}” is more than a hundred tonnes. ${HOW_TO}` };
  if (Math.round(mg) < 1) return { ok: false, message: `A weight has to be more than nothing. ${HOW_TO}` };
  return { ok: true, mg: Math.round(mg) };
}

/** A weight typed into a field that asks for grams, where a bare number is grams in a metric house. */
export function parseWeightField(text: string, units: UnitSystem): ParsedWeight {
  const bare = units === 'metric' && /^\d+(?:[.,]\d+)?$/u.test(text.trim());
  return parseWeight(bare ? `${text}g` : text);
}

/** The longest weight that begins at a word ("2 lb 3 oz" takes four), whatever sign stands before it, or null. */
export function weightAt(
  words: readonly string[],
  at: number,
): { readonly mg: number; readonly used: number } | null {
  for (let used = Math.min(4, words.length - at); used > 0; used -= 1) {
    const said = words.slice(at, at + used).join(' ');
    const parsed = parseWeight(said.replace(/^[-+–]/u, ''));
    if (parsed.ok) return { mg: parsed.mg, used };
  }
  return null;
}

/** "1,200 g" is twelve hundred grams: nobody weighs grams to three decimals. "1,2 kg" has a decimal comma. */
function readDigits(digits: string, unit: string): number {
  const joined = digits.replace(/[  ]/gu, '');
  const thousands = /^g/u.test(unit) && /^\d{1,3},\d{3}$/u.test(joined);
  return Number(thousands ? joined.replace(',', '') : joined.replace(',', '.'));
}

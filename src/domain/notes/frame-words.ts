/**
 * What an adjective means beside a word of body, finish or acidity: "heavy" beside "mouthfeel" is a full
 * body. An empty name takes the adjective's own meaning away (a "muted finish" is no mild cup). Adjectives
 * that keep their meaning there ("creamy texture") are not listed.
 */
export type Frame = ReadonlyMap<string, string>;

function frame(rows: readonly (readonly [attribute: string, adjectives: string])[]): Frame {
  return new Map(
    rows.flatMap(([attribute, words]) => words.split(', ').map((word) => [word, attribute] as const)),
  );
}

const BODY = frame([
  [
    'light body',
    'light, lighter, lightest, lite, delicate, low, lower, lowest, little, very little, airy, slight, mild, subtle',
  ],
  ['thin', 'thin, thinner, thinnest, watery, waterier, weak, weaker, weakest, hollow, dilute, diluted'],
  ['medium body', 'medium, med, mid, moderate, middling, middle, average, mid range'],
  [
    'full body',
    'full, fuller, fullest, heavy, heavier, heaviest, thick, thicker, thickest, big, bigger, biggest, rich, richer, richest, strong, stronger, strongest, high, higher, highest, dense, denser, densest, bold, bolder, robust, substantial, solid, weighty, deep, hefty, lots of, a lot of, tons of, good amount of',
  ],
  ['smooth', 'soft, softer'],
  ['mouth-drying', 'dry, drier, drying'],
  ['creamy', 'buttery, milky'],
  ['tea-like body', 'tea-like, tea like, tea'],
  ['oily', 'slippery'],
]);

const FINISH = frame([
  ['long aftertaste', 'long, longer, longest, lingering, lasting, persistent, extended, prolonged'],
  ['short aftertaste', 'short, shorter, shortest, quick, brief, limited, little, very little'],
  ['clean aftertaste', 'clean, cleaner, crisp, crisper, fresh'],
  ['sweet aftertaste', 'sweet, sweeter, sugary'],
  ['bitter aftertaste', 'bitter, bitterer'],
  ['dry aftertaste', 'dry, drier, drying, astringent, tannic'],
  [
    '',
    'muted, light, weak, strong, subtle, mild, faint, quiet, gentle, delicate, bold, soft, heavy, full, intense',
  ],
]);

const ACIDITY = frame([
  ['bright acidity', 'bright, brighter, brightest, lively, vibrant, vivid, crisp, snappy, clean'],
  ['sparkling acidity', 'sparkling, effervescent, fizzy'],
  ['tart acidity', 'tart, tarter, tangy'],
  ['sharp acidity', 'sharp, sharper, piercing, pointy, biting, aggressive, harsh'],
  ['juicy acidity', 'juicy, juicier'],
  [
    'soft acidity',
    'soft, softer, mellow, gentle, low, lower, lowest, mild, milder, rounded, round, muted, little, very little',
  ],
  ['flat acidity', 'flat, dull'],
  ['citric acidity', 'citric, citrus, citrusy, lemony'],
]);

export const FRAMES: Readonly<Record<'body' | 'finish' | 'acidity', Frame>> = {
  body: BODY,
  finish: FINISH,
  acidity: ACIDITY,
};

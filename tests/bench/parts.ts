/* What the load, the bot and the floor agree on. */

export const signingSecret = 'a-signing-secret-of-the-benchmark';
export const WORKSPACE = 'T0FERN';
export const CHANNEL = 'C0TABLE';
export const HOST = 'U1INES';
export const ROASTER = 'U3BRAM';
export const TASTERS: readonly string[] = Array.from({ length: 12 }, (_, seat) => `U${1000 + seat}`);

/** What people write under a cup; plain notes, as most are. */
export const WORDS: readonly string[] = [
  'lemon, black tea, light body',
  'dark chocolate and a hint of orange',
  'jasmine! very clean, juicy',
  'caramel, not sour at all, heavy body',
  'brown sugar, a bit drying',
  'blueberries, winey, long finish',
  'toasted almond; smooth; low acidity',
  'very bright, lime more than lemon?',
  'stone fruit, honey, 7/9',
  'flat now that it is cold, cardboard',
];

/* What the tasters of the demo write. All of it is invented; every figure that follows from it is worked out by the bot. */

export type Line = { readonly who: string; readonly cup: string | null; readonly text: string };
export type Story = {
  readonly name: 'clear' | 'too close' | 'cycle';
  readonly told: string;
  readonly notes: readonly Line[];
  readonly placings: readonly Line[];
};

const TASTERS = ['noor', 'teo', 'mika', 'sol', 'wren', 'jun'] as const;

/** What everybody finds in the coffees alone and in the blend; the same table in every story. */
const NOTES: readonly Line[] = [
  { who: 'noor', cup: 'A', text: 'dark chocolate, full body, not sour' },
  { who: 'teo', cup: 'A', text: 'chocolatey and a bit nutty, heavy body' },
  { who: 'mika', cup: 'A', text: 'milk chocolate, hazelnut :chestnut:' },
  { who: 'sol', cup: 'A', text: 'dark chocolate, low acidity' },
  { who: 'wren', cup: 'A', text: 'choclate, nuts' },
  { who: 'jun', cup: 'A', text: 'dark chocolate!! toasty' },
  { who: 'noor', cup: 'B', text: 'black tea, lemon, very sweet' },
  { who: 'teo', cup: 'B', text: 'lemony, brown sugar' },
  { who: 'mika', cup: 'B', text: 'black tea with a hint of lemon' },
  { who: 'sol', cup: 'B', text: 'orange, brown sugar, bright' },
  { who: 'wren', cup: 'B', text: 'lemon and black tea, sweet' },
  { who: 'jun', cup: 'B', text: 'brown sugar, black tea' },
  { who: 'noor', cup: 'C', text: 'strawberry, winey, lots of blueberry' },
  { who: 'teo', cup: 'C', text: 'strawberries and a touch of ferment' },
  { who: 'mika', cup: 'C', text: 'strawberry jam, funky' },
  { who: 'sol', cup: 'C', text: 'blueberry, strawberry' },
  { who: 'jun', cup: 'C', text: 'strawberry, sweet, winey' },
  { who: 'noor', cup: 'D', text: 'dark chocolate, strawberry, sweet' },
  { who: 'teo', cup: 'D', text: 'chocolate, brown sugar, full body' },
  { who: 'mika', cup: 'D', text: 'chocolate and strawberry' },
  { who: 'sol', cup: 'D', text: 'dark chocolate, black tea' },
  { who: 'wren', cup: 'D', text: 'dark chocolate, a little strawberry' },
  { who: 'jun', cup: 'D', text: 'dark chocolate, brown sugar' },
  { who: 'noor', cup: 'E', text: 'strawberry first, then dark chocolate, sweet' },
  { who: 'teo', cup: 'E', text: 'strawberry, lemon, less body than D' },
  { who: 'mika', cup: 'E', text: 'dark chocolate and strawberry, juicy' },
  { who: 'sol', cup: 'E', text: 'strawberry, milk chocolate' },
  { who: 'wren', cup: 'E', text: 'bright, strawberry, sweet' },
  { who: 'jun', cup: 'E', text: 'dark chocolate with a strawberry finish' },
  { who: 'noor', cup: 'F', text: 'black tea, dark chocolate' },
  { who: 'teo', cup: 'F', text: 'black tea, light body' },
  { who: 'mika', cup: 'F', text: 'lemon, brown sugar, black tea' },
  { who: 'sol', cup: 'F', text: 'black tea, dark chocolate' },
  { who: 'jun', cup: 'F', text: 'brown sugar, a hint of lemon' },
];

const ORDERED = [...TASTERS, 'ines'] as const;

function orders(...lines: readonly string[]): readonly Line[] {
  return lines.map((text, index) => ({ who: ORDERED[index] ?? 'ines', cup: null, text }));
}

export const STORIES: readonly Story[] = [
  {
    name: 'clear',
    told: 'Everybody puts the brighter ratio first.',
    notes: NOTES,
    placings: orders(
      'E > D > F',
      '1. E 2. D 3. F',
      'E > F > D',
      'E, then D, then F',
      'E > D > F',
      'E 8/9, D 6/9, F 5/9',
      'E > F > D',
    ),
  },
  {
    name: 'too close',
    told: 'The table is split.',
    notes: NOTES,
    placings: orders('D > E > F', 'E > D > F', 'D > F > E', 'E > F > D', 'F > D > E', 'E = D'),
  },
  {
    name: 'cycle',
    told: 'Every ratio beats another, and none beats them all.',
    notes: NOTES,
    placings: orders(
      'D > E > F',
      'E > F > D',
      'F > D > E',
      'D > E > F',
      'E > F > D',
      'F > D > E',
      'D > E > F',
    ),
  },
];

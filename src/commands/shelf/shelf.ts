import type { Feature } from '../common/feature.js';
import { addTap } from './shelf-add.js';
import { archiveTap } from './shelf-archive.js';
import { changeTap, coffeeSubmitted } from './shelf-change.js';
import { greenSubmitted, greenTap } from './shelf-green.js';
import { roastedSubmitted, roastedTap } from './shelf-roasted.js';
import { askTap, listTap, openTap } from './shelf-show.js';
import { takeSubmitted, takeTap } from './shelf-take.js';
import { shelfTyped } from './shelf-typed.js';

/** Coffees: what a roastery can roast, and what of it is roasted on its own. */
export const shelf: Feature = {
  verb: {
    name: 'shelf',
    does: 'Coffees: list, add, change, what is roasted and how much',
    example: '/spoon shelf "Kayanza Hill" 500g roasted tue',
    run: shelfTyped,
  },
  taps: {
    'shelf.list': { for: 'look', run: listTap },
    'shelf.open': { for: 'look', run: openTap },
    'shelf.add': { for: 'change shelf', run: addTap },
    'shelf.change': { for: 'change shelf', run: changeTap },
    'shelf.green': { for: 'change shelf', run: greenTap },
    'shelf.roasted': { for: 'change shelf', run: roastedTap },
    'shelf.take': { for: 'change shelf', run: takeTap },
    'shelf.ask': { for: 'ask for roast', run: askTap },
    'shelf.archive': { for: 'change shelf', run: archiveTap },
  },
  forms: {
    'shelf.coffee': { for: 'change shelf', run: coffeeSubmitted },
    'shelf.green': { for: 'change shelf', run: greenSubmitted },
    'shelf.roasted': { for: 'change shelf', run: roastedSubmitted },
    'shelf.take': { for: 'change shelf', run: takeSubmitted },
  },
  subjects: {},
};

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
  taps: new Map([
    ['shelf.list', listTap],
    ['shelf.open', openTap],
    ['shelf.add', addTap],
    ['shelf.change', changeTap],
    ['shelf.green', greenTap],
    ['shelf.roasted', roastedTap],
    ['shelf.take', takeTap],
    ['shelf.ask', askTap],
    ['shelf.archive', archiveTap],
  ]),
  forms: new Map([
    ['shelf.coffee', coffeeSubmitted],
    ['shelf.green', greenSubmitted],
    ['shelf.roasted', roastedSubmitted],
    ['shelf.take', takeSubmitted],
  ]),
};

import { z } from 'zod';
import { factExample } from '../../domain/house/house-facts.js';
import type { Feature } from '../common/bot.js';
import { readValue } from '../common/intake.js';
import { FactNameValue, houseCard, resetHouseFact } from './house-change.js';
import { factSubmitted, factTap, firstSubmitted, openFirstForm } from './house-forms.js';
import { houseTyped, showGroup } from './house-typed.js';

/** What a roastery tells the bot about itself, and where each default comes from. */
export const house: Feature = {
  verb: {
    name: 'house',
    does: 'Roastery facts: time zone, roaster, stewards, roast days, drums and every default',
    example: `/spoon house ${factExample('roastDays')}`,
    run: houseTyped,
  },
  taps: {
    'house.show': { for: 'look', run: async (deps, tap) => ({ message: await houseCard(deps.db, tap.who) }) },
    'house.group': {
      for: 'look',
      run: (deps, tap) => showGroup(deps, tap.who, readValue(z.string(), tap.value)),
    },
    'house.first': { for: 'change house', run: (deps, tap) => openFirstForm(deps, tap.who) },
    'house.fact': { for: 'change house', run: factTap },
    'house.reset': {
      for: 'change house',
      run: (deps, tap) => resetHouseFact(deps, tap.who, readValue(FactNameValue, tap.value)),
    },
  },
  forms: {
    'house.first': { for: 'change house', run: firstSubmitted },
    'house.fact': { for: 'change house', run: factSubmitted },
  },
  subjects: {},
};

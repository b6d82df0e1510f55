import { z } from 'zod';
import type { Feature } from '../common/feature.js';
import { readValue } from '../common/values.js';
import { FactNameValue, houseCard, resetHouseFact } from './house-change.js';
import { factSubmitted, factTap, firstSubmitted, openFirstForm } from './house-forms.js';
import { houseTyped, showGroup } from './house-typed.js';

/** What a roastery tells the bot about itself, and where each default comes from. */
export const house: Feature = {
  verb: {
    name: 'house',
    does: 'Roastery facts: time zone, roaster, stewards, roast days, drums and every default',
    example: '/spoon house roast days tue thu',
    run: houseTyped,
  },
  taps: new Map([
    ['house.show', async (deps, tap) => ({ message: await houseCard(deps.db, tap.who) })],
    ['house.group', (deps, tap) => showGroup(deps, tap.who, readValue(z.string(), tap.value))],
    ['house.first', (deps, tap) => openFirstForm(deps, tap.who)],
    ['house.fact', factTap],
    ['house.reset', (deps, tap) => resetHouseFact(deps, tap.who, readValue(FactNameValue, tap.value))],
  ]),
  forms: new Map([
    ['house.first', firstSubmitted],
    ['house.fact', factSubmitted],
  ]),
};

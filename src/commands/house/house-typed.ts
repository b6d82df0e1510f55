import { FACT_GROUPS } from '../../domain/house/fact.js';
import { factExample, splitFact } from '../../domain/house/house-facts.js';
import { mrkdwn } from '../../kit/escape.js';
import { KindRefusal } from '../../runtime/errors.js';
import { loadHouse } from '../../store/house.js';
import type { Answer, Deps } from '../common/bot.js';
import type { Typed, Who } from '../common/intake.js';
import { factGroupMessage } from './house-card-message.js';
import { changeHouse, houseCard, houseShown, resetHouseFact } from './house-change.js';
import { openFactForm, openFirstForm } from './house-forms.js';

const RESET = /^(?:default|reset|standard)$/iu;

/** `house …`: the card, a group, or one fact changed in words. */
export async function houseTyped(deps: Deps, typed: Typed): Promise<Answer> {
  const words = typed.words.trim();
  if (words === '') return { message: await houseCard(deps.db, typed.who) };
  if (/^(?:set ?up|first)$/iu.test(words)) return openFirstForm(deps, typed.who);
  const group = FACT_GROUPS.find((known) =>
    [known.key, known.title.toLowerCase()].includes(words.toLowerCase()),
  );
  if (group) return showGroup(deps, typed.who, group.key);
  const said = splitFact(words);
  if (said === null) {
    throw new KindRefusal(
      'not understood',
      `I do not know the house fact “${mrkdwn(words.slice(0, 80))}”.`,
      `Type \`/spoon house\` to see them all, or like \`/spoon house ${factExample('roastDays')}\`.`,
    );
  }
  if (said.words === '') return openFactForm(deps, typed.who, said.name);
  if (RESET.test(said.words)) return resetHouseFact(deps, typed.who, said.name);
  // "steward @bram" adds one; "stewards @ines @bram" says who they are.
  const adds = /^steward$/iu.test(said.called) && /<@/u.test(said.words);
  const { stewards } = await loadHouse(deps.db, typed.who.workspace);
  const before = adds ? stewards.map((person) => `<@${person}>`).join(' ') : '';
  return changeHouse(deps, typed.who, [{ name: said.name, words: `${before} ${said.words}`.trim() }]);
}

/** One group of facts. */
export async function showGroup(deps: Deps, who: Who, key: string): Promise<Answer> {
  const group = FACT_GROUPS.find((known) => known.key === key);
  const shown = await houseShown(deps.db, who);
  return { message: group ? factGroupMessage(group, shown) : await houseCard(deps.db, who) };
}

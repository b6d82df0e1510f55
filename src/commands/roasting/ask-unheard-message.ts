import { button, buttons, say } from '../../kit/blocks.js';
import type { Notice } from '../../kit/notice.js';
import type { AskView } from './ask-view-message.js';
import { askersOf, coffeeBold, person } from './ask-words-message.js';

/** Why Slack would not show the roaster what was for them; empty once it did. */
export type Unheard = { readonly errors: readonly string[]; readonly told: boolean };

const WHY = new Map([
  ['user_disabled', 'their account is deactivated'],
  ['user_not_found', 'they are no longer in this workspace'],
  ['account_inactive', 'their account is deactivated'],
]);
const LIVE: ReadonlySet<string> = new Set(['asked', 'accepted', 'offered']);

/** Those who asked hear at once when the roaster cannot: an ask that nobody reads is no ask. */
export function unheardNotices(view: AskView, unheard: Unheard): readonly Notice[] {
  const { ask } = view;
  const isUnheard = unheard.errors.length > 0 && LIVE.has(ask.state);
  if (!isUnheard && !unheard.told) return [];
  const why = [...new Set(unheard.errors)].map((error) => WHY.get(error) ?? `Slack says “${error}”`);
  const message = isUnheard
    ? say(
        `I could not tell ${person(ask.roaster)} about roasting ${coffeeBold(view)} alone: ${why.join('; ')}. Tell whoever roasts another way, or name another roaster with \`/spoon house roaster @name\` and ask anew.`,
        ...buttons(button('Withdraw the ask', 'ask.withdraw', { ask: ask.id })),
      )
    : say(`${person(ask.roaster)} need not be told about ${coffeeBold(view)} another way any more.`);
  return askersOf(view)
    .filter((asker) => asker !== ask.roaster)
    .map((asker) => ({
      kind: 'message',
      key: unheardKey(ask.id, asker),
      place: { kind: 'direct', person: asker },
      message,
    }));
}

/** The key of what this person hears when the roaster of an ask cannot be told. */
export function unheardKey(askId: number, asker: string): string {
  return `ask:${askId}:unheard:${asker}`;
}

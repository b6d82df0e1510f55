import { botName } from '../store.js';

const REASONS = new Map([
  ['operation_timeout', 'did not answer within three seconds'],
  ['no_bot', 'is not here yet'],
  ['bot_offline', 'is not here yet'],
]);

/** One kind sentence about a bot that did not do what was asked. */
export function botTrouble(error: string | undefined): string {
  const reason = REASONS.get(error ?? '') ?? `could not do that${error === undefined ? '' : ` (${error})`}`;
  return `${botName()} ${reason}. What you typed is kept; please try again in a moment.`;
}

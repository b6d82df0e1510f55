import type { Received } from '../../../src/commands/common/intake.js';
import { EventEnvelope, readEvent } from '../../../src/slack/in/slack-event.js';
import { BOT_USER } from './fake-slack.js';

/** What the bot makes of one of Slack's events; null when it is of no use to it. */
export function receivedFrom(event: object, workspace = 'T1'): Received | null {
  const envelope = EventEnvelope.parse({ team_id: workspace, event_id: 'Ev1', event });
  return readEvent(envelope, { workspace, botUserId: BOT_USER, botId: 'B0BOT' });
}

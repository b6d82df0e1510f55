import type { Channel, JsonObject, Person } from '../api-types.js';
import type { Context } from '../context.js';
import { newId, newSecret } from '../random.js';
import { addResponseUrl } from '../state/response-urls.js';

const LIFE_MS = 30 * 60_000;

/** The conversation's name as commands and payloads give it. */
export function payloadChannelName(channel: Channel): string {
  if (channel.kind === 'im') return 'directmessage';
  return channel.kind === 'private' ? 'privategroup' : channel.name;
}

/** What every interaction carries: who, in which workspace, for which app. */
export function interaction(ctx: Context, type: string, person: Person): JsonObject {
  const { teamId, domain, appId, verificationToken } = ctx.identity;
  return {
    type,
    team: { id: teamId, domain },
    user: { id: person.id, username: person.name, name: person.name, team_id: teamId },
    api_app_id: appId,
    token: verificationToken,
    enterprise: null,
    is_enterprise_install: false,
    trigger_id: ctx.triggers.issue(person.id),
  };
}

/** A place to answer to: five uses in thirty minutes of the workspace's clock. */
export function newResponseUrl(
  ctx: Context,
  person: string,
  channel: string,
  messageTs: string | null,
): string {
  const id = `${newId('R')}${newSecret()}`;
  const expired = ctx.faults.strike('expire-response-urls', 'response_url') !== undefined;
  const expiresAt = ctx.clock.now().getTime() + (expired ? -1 : LIFE_MS);
  addResponseUrl(ctx.db, { id, person, channel, messageTs, uses: 0, expiresAt });
  return `${ctx.url()}/response/${id}`;
}

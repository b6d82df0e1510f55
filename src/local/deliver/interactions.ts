import type { Channel, JsonObject, Person, TapAnswer } from '../api-types.js';
import type { Context } from '../context.js';
import { newId, newSecret } from '../random.js';
import { addResponseUrl } from '../state/response-urls.js';
import type { Outcome } from './transport.js';

/** Delivers what a person did in the bot's message or form, with what every interaction carries. */
export function interact(ctx: Context, type: string, person: Person, more: JsonObject): Promise<Outcome> {
  const { teamId, domain, appId, verificationToken } = ctx.identity;
  const body = {
    type,
    team: { id: teamId, domain },
    user: { id: person.id, username: person.name, name: person.name, team_id: teamId },
    api_app_id: appId,
    token: verificationToken,
    enterprise: null,
    is_enterprise_install: false,
    trigger_id: ctx.triggers.issue(person.id),
    ...more,
  };
  return ctx.activity.during(() => ctx.postman.deliver({ kind: 'interactive', body }));
}

/** What a person hears of how the bot took it. */
export function tapAnswer(outcome: Outcome): TapAnswer {
  const error = outcome.failure === 'http_timeout' ? 'operation_timeout' : outcome.failure;
  return { ok: error === null, status: outcome.status, ...(error === null ? {} : { error }) };
}

/** The conversation's name as commands and payloads give it. */
export function payloadChannelName(channel: Channel): string {
  if (channel.kind === 'im') return 'directmessage';
  return channel.kind === 'private' ? 'privategroup' : channel.name;
}

const RESPONSE_LIFE_MS = 30 * 60_000;

/** A place to answer to: five uses in thirty minutes of the workspace's clock. */
export function newResponseUrl(ctx: Context, person: string, channel: string): string {
  const id = `${newId('R')}${newSecret()}`;
  const expired = ctx.faults.strike('expire-response-urls', 'response_url') !== undefined;
  const expiresAt = ctx.clock.now().getTime() + (expired ? -1 : RESPONSE_LIFE_MS);
  addResponseUrl(ctx.db, { id, person, channel, uses: 0, expiresAt });
  return `${ctx.url()}/response/${id}`;
}

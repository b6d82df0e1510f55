import { z } from 'zod';
import type { CommandAnswer, CommandRequest } from '../api-types.js';
import type { Context } from '../context.js';
import { newResponseUrl, payloadChannelName } from '../deliver/interactions.js';
import type { Outcome } from '../deliver/transport.js';
import { parsedJson } from '../json.js';
import { respond } from '../messages.js';
import { SlackError } from '../refusals.js';
import { actingPerson, writableChannel } from './acting.js';
import { escapedText } from './escaped-text.js';
import { shownMessage } from './looking.js';

/** A person runs a slash command and sees what comes back within three seconds. */
export async function runCommand(ctx: Context, request: CommandRequest): Promise<CommandAnswer> {
  const person = actingPerson(ctx, request.as);
  const channel = writableChannel(ctx, request.channel, person.id);
  if (request.thread !== undefined) return refused('commands_not_in_threads');
  const [command = '', ...rest] = request.text.split(/(?<=^\S+)\s+/);
  if (!ctx.identity.commands.has(command)) return refused('unknown_command');
  const typed = rest.join(' ').trim();
  const outcome = await ctx.activity.during(() =>
    ctx.postman.deliver({
      kind: 'command',
      body: {
        token: ctx.identity.verificationToken,
        team_id: ctx.identity.teamId,
        team_domain: ctx.identity.domain,
        channel_id: channel.id,
        channel_name: payloadChannelName(channel),
        user_id: person.id,
        user_name: person.name,
        command,
        text: ctx.shouldEscape ? escapedText(ctx, typed, 'command') : typed,
        api_app_id: ctx.identity.appId,
        is_enterprise_install: 'false',
        response_url: newResponseUrl(ctx, person.id, channel.id),
        trigger_id: ctx.triggers.issue(person.id),
      },
    }),
  );
  return answerOf(ctx, { person: person.id, channel: channel.id }, outcome);
}

function answerOf(ctx: Context, origin: Parameters<typeof respond>[1], outcome: Outcome): CommandAnswer {
  if (outcome.failure !== null) return { ok: false, status: outcome.status, error: failureOf(outcome) };
  if (outcome.body.trim() === '') return { ok: true, status: outcome.status, response: null };
  try {
    const isJson = outcome.contentType.includes('json');
    const answer = isJson ? parsedJson(outcome.body, z.unknown()) : { text: outcome.body };
    const message = respond(ctx, origin, typeof answer === 'string' ? { text: answer } : answer);
    return { ok: true, status: outcome.status, response: shownMessage(ctx, message) };
  } catch (error) {
    if (!(error instanceof SlackError)) throw error;
    return { ok: false, status: outcome.status, error: `invalid_command_response: ${error.code}` };
  }
}

/** Slack's words for a command that got no good answer (from memory but for the time-out). */
function failureOf(outcome: Outcome): string {
  if (outcome.failure === 'http_timeout') return 'operation_timeout';
  if (outcome.status >= 500) return 'http_service_error';
  return outcome.status >= 400 ? 'http_client_error' : 'dispatch_failed';
}

function refused(error: string): CommandAnswer {
  return { ok: false, status: 0, error };
}

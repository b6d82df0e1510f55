import type { IncomingMessage, ServerResponse } from 'node:http';
import { setTimeout as sleep } from 'node:timers/promises';
import { z } from 'zod';
import { JsonObject } from '../api-types.js';
import type { Context } from '../context.js';
import { parsedJson } from '../json.js';
import { newId } from '../random.js';
import { SlackError } from '../refusals.js';
import { logCall } from '../state/deliveries.js';
import { methods } from '../web-api/table.js';
import { readBody, sendJson } from './http.js';

const LARGEST_BODY = 5_000_000;
const HOLD_MS = 60_000;

/** Answers one call of Slack's Web API, under the faults in force. */
export async function answerCall(
  ctx: Context,
  request: IncomingMessage,
  response: ServerResponse,
  url: URL,
): Promise<void> {
  const name = url.pathname.slice('/api/'.length);
  const body = (await readBody(request, LARGEST_BODY)).toString('utf8');
  const { token, ...args } = callArguments(request.headers['content-type'] ?? '', body, url.searchParams);
  const bearer = /^Bearer (.+)$/i.exec(request.headers.authorization ?? '')?.[1];
  await ctx.activity.call(() =>
    underFaults(ctx, name, args, response, () => {
      const reply = replyTo(ctx, name, args, bearer ?? (typeof token === 'string' ? token : undefined));
      note(ctx, name, args, reply);
      return { status: 200, reply };
    }),
  );
}

/** Arguments that travel as JSON text inside a form. */
const JSON_ARGUMENTS = new Set(['blocks', 'view', 'metadata', 'files']);

/** A call's arguments from a form or JSON body and the address; what is not JSON where it should be stays text. */
function callArguments(contentType: string, body: string, query: URLSearchParams): JsonObject {
  if (contentType.startsWith('application/json')) {
    return { ...Object.fromEntries(query), ...parsedJson(body, JsonObject) };
  }
  const fields = [...query, ...new URLSearchParams(body)];
  return Object.fromEntries(
    fields.map(([key, value]) => [
      key,
      JSON_ARGUMENTS.has(key) ? (parsedJson(value, z.json()) ?? value) : value,
    ]),
  );
}

type Answer = { readonly status: number; readonly reply: Reply };
type Reply = Readonly<Record<string, unknown>> & { readonly ok: boolean };

/** Lets the faults in force strike before, instead of or after the work. */
export async function underFaults(
  ctx: Context,
  name: string,
  args: JsonObject,
  response: ServerResponse,
  work: () => Answer,
): Promise<void> {
  const { faults } = ctx;
  const logFailure = (error: string): void => note(ctx, name, args, { ok: false, error });
  const limited = faults.strike('rate-limit', name);
  if (limited !== undefined) {
    logFailure('ratelimited');
    const headers = { 'retry-after': String(limited.retryAfter) };
    return sendJson(response, 429, { ok: false, error: 'ratelimited' }, headers);
  }
  const broken = faults.strike('server-error', name);
  if (broken !== undefined) {
    const { status = 503 } = broken;
    logFailure(`http_${status}`);
    return sendJson(response, status, { ok: false, error: 'service_unavailable' });
  }
  if (faults.strike('cut-before', name) !== undefined) {
    logFailure('cut_before');
    response.destroy();
    return;
  }
  const refused = faults.strike('refuse', name);
  if (refused !== undefined) {
    logFailure(refused.error);
    return sendJson(response, 200, { ok: false, error: refused.error });
  }
  const silent = faults.strike('time-out', name);
  if (silent !== undefined) {
    if (silent.done === true) work();
    else logFailure('time_out');
    // Nobody waits for this: the caller has given up long before.
    void sleep(silent.holdMs ?? HOLD_MS, undefined, { ref: false }).then(() => response.destroy());
    return;
  }
  const { status, reply } = work();
  if (faults.strike('cut-after', name) !== undefined) response.destroy();
  else sendJson(response, status, reply, apiHeaders(ctx, name));
}

function apiHeaders(ctx: Context, name: string): Record<string, string> {
  return {
    'x-oauth-scopes': [...ctx.scopes].join(','),
    'x-accepted-oauth-scopes': methods.get(name)?.scopes.join(',') ?? '',
    'x-slack-req-id': newId(''),
  };
}

function replyTo(ctx: Context, name: string, args: JsonObject, token: string | undefined): Reply {
  try {
    const method = methods.get(name);
    if (method === undefined) throw new SlackError('unknown_method', { req_method: name });
    if (name !== 'api.test') checkToken(ctx, name, token);
    if (method.scopes.length > 0 && !method.scopes.some((scope) => ctx.scopes.has(scope))) {
      throw new SlackError('missing_scope', {
        needed: method.scopes.join(),
        provided: [...ctx.scopes].join(),
      });
    }
    return { ok: true, ...method.answer(ctx, args) };
  } catch (error) {
    if (error instanceof SlackError) return { ok: false, error: error.code, ...error.details };
    return {
      ok: false,
      error: 'fatal_error',
      message: error instanceof Error ? error.message : String(error),
    };
  }
}

function checkToken(ctx: Context, name: string, token: string | undefined): void {
  if (token === undefined) throw new SlackError('not_authed');
  const forApp = name === 'apps.connections.open';
  if (token === (forApp ? ctx.identity.appToken : ctx.identity.botToken)) return;
  const isOther = token === ctx.identity.appToken || token === ctx.identity.botToken;
  throw new SlackError(isOther ? 'not_allowed_token_type' : 'invalid_auth');
}

function note(ctx: Context, method: string, args: JsonObject, reply: Reply): void {
  logCall(ctx.db, {
    at: ctx.clock.now().toISOString(),
    method,
    args,
    ok: reply.ok,
    error: typeof reply['error'] === 'string' ? reply['error'] : undefined,
  });
}

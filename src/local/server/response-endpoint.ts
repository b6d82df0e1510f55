import type { IncomingMessage, ServerResponse } from 'node:http';
import { JsonObject } from '../api-types.js';
import type { Context } from '../context.js';
import { parsedJson } from '../json.js';
import { respond } from '../messages.js';
import { SlackError } from '../refusals.js';
import { countUse, findResponseUrl } from '../state/response-urls.js';
import { readBody } from './http.js';
import { underFaults } from './web-api-endpoint.js';

const MOST_USES = 5;
const LARGEST_BODY = 1_000_000;

/** Answers one post to a response URL: five uses in thirty minutes (the statuses are from memory). */
export async function answerResponse(
  ctx: Context,
  request: IncomingMessage,
  response: ServerResponse,
  url: URL,
): Promise<void> {
  const body = parsedJson((await readBody(request, LARGEST_BODY)).toString('utf8'), JsonObject);
  await ctx.activity.call(() =>
    underFaults(ctx, 'response_url', body ?? {}, response, () => {
      try {
        use(ctx, url.pathname.slice('/response/'.length), body);
        return { status: 200, reply: { ok: true } };
      } catch (error) {
        if (!(error instanceof SlackError)) throw error;
        const gone = error.code === 'used_url' || error.code === 'expired_url';
        return { status: gone ? 404 : 400, reply: { ok: false, error: error.code } };
      }
    }),
  );
}

function use(ctx: Context, id: string, body: JsonObject | undefined): void {
  const target = findResponseUrl(ctx.db, id);
  if (target === undefined || ctx.clock.now().getTime() > target.expiresAt)
    throw new SlackError('expired_url');
  if (target.uses >= MOST_USES) throw new SlackError('used_url');
  if (body === undefined) throw new SlackError('invalid_payload');
  respond(ctx, target, body);
  countUse(ctx.db, id);
}

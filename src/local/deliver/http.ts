/** Requests to the bot over HTTP, signed as Slack signs them: over the exact bytes, with real time. */
import { createHmac } from 'node:crypto';
import { z } from 'zod';
import type { JsonObject } from '../api-types.js';
import type { Identity } from '../identity.js';
import { parsedJson } from '../json.js';
import { newSecret } from '../random.js';
import type { Postman } from './postman.js';
import { type BotRequest, noAnswer, type Outcome, type Transport } from './transport.js';

const JSON_TYPE = 'application/json';
const FORM_TYPE = 'application/x-www-form-urlencoded';

/** Posts to the bot's request URL. */
export function httpTransport(
  secret: string,
  requestUrl: () => string | undefined,
  closing: AbortSignal,
): Transport {
  const underWay = new Set<AbortController>();
  closing.addEventListener('abort', () => {
    for (const one of underWay) one.abort();
  });
  return {
    send: async (request, timeoutMs) => {
      const url = requestUrl();
      if (url === undefined || closing.aborted) return noAnswer('connection_failed');
      const controller = new AbortController();
      underWay.add(controller);
      let timedOut = false;
      const timer = setTimeout(() => {
        timedOut = true;
        controller.abort();
      }, timeoutMs);
      const { contentType, body } = encoded(request);
      const retry = retryHeaders(request);
      try {
        return await outcomeOf(await postSigned(url, secret, contentType, body, controller.signal, retry));
      } catch {
        return noAnswer(timedOut ? 'http_timeout' : 'connection_failed');
      } finally {
        clearTimeout(timer);
        underWay.delete(controller);
      }
    },
  };
}

/** Slack's v0 signature: HMAC-SHA256 over version, time in seconds and the exact body. */
function postSigned(
  url: string,
  secret: string,
  contentType: string,
  body: string,
  signal: AbortSignal,
  more: Readonly<Record<string, string>> = {},
): Promise<Response> {
  const seconds = Math.floor(Date.now() / 1_000);
  const digest = createHmac('sha256', secret).update(`v0:${seconds}:${body}`).digest('hex');
  const headers = {
    'content-type': contentType,
    'x-slack-request-timestamp': String(seconds),
    'x-slack-signature': `v0=${digest}`,
    ...more,
  };
  return fetch(url, { method: 'POST', redirect: 'manual', signal, headers, body });
}

async function outcomeOf(response: Response): Promise<Outcome> {
  return {
    status: response.status,
    body: await response.text(),
    contentType: response.headers.get('content-type') ?? '',
    noRetry: !response.ok && response.headers.get('x-slack-no-retry') === '1',
    failure: response.ok ? null : 'http_error',
  };
}

function encoded({ kind, body }: BotRequest): { readonly contentType: string; readonly body: string } {
  if (kind === 'event') return { contentType: JSON_TYPE, body: JSON.stringify(body) };
  const fields: JsonObject = kind === 'command' ? body : { payload: JSON.stringify(body) };
  const form = new URLSearchParams();
  for (const [key, value] of Object.entries(fields)) form.append(key, String(value));
  return { contentType: FORM_TYPE, body: form.toString() };
}

function retryHeaders({ retry }: BotRequest): Record<string, string> {
  if (retry === undefined) return {};
  return { 'x-slack-retry-num': String(retry.num), 'x-slack-retry-reason': retry.reason };
}

const EVERY_MS = 400;
const Challenge = z.looseObject({ challenge: z.string() });

/** Asks the request URL, by Slack's signed `url_verification`, whether the bot is there, until it is. */
export function presenceCheck(
  identity: Identity,
  requestUrl: () => string | undefined,
  postman: Postman,
): { readonly again: () => void; readonly stop: () => void } {
  let stopped = false;
  let asking = false;
  const timer = setInterval(() => void ask(), EVERY_MS);
  timer.unref();

  const ask = async (): Promise<void> => {
    const url = requestUrl();
    if (stopped || asking || postman.online() || url === undefined) return;
    asking = true;
    const isThere = await answersChallenge(identity, url);
    asking = false;
    if (!stopped && isThere) postman.setOnline(true);
  };

  void ask();
  return {
    again: () => {
      postman.setOnline(false);
      void ask();
    },
    stop: () => {
      stopped = true;
      clearInterval(timer);
    },
  };
}

async function answersChallenge(identity: Identity, url: string): Promise<boolean> {
  const challenge = newSecret();
  const body = JSON.stringify({ token: identity.verificationToken, challenge, type: 'url_verification' });
  try {
    const signal = AbortSignal.timeout(3_000);
    const response = await postSigned(url, identity.signingSecret, JSON_TYPE, body, signal);
    return parsedJson(await response.text(), Challenge)?.challenge === challenge;
  } catch {
    return false;
  }
}

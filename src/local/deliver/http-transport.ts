import type { JsonObject } from '../api-types.js';
import { signature } from './signing.js';
import { type BotRequest, noAnswer, type Outcome, type Transport } from './transport.js';

const FORM = 'application/x-www-form-urlencoded';

/** Posts to the bot's request URL, signed over the exact bytes with real time. */
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
      const { contentType, body } = encode(request);
      const seconds = Math.floor(Date.now() / 1_000);
      try {
        const response = await fetch(url, {
          method: 'POST',
          redirect: 'manual',
          signal: controller.signal,
          headers: {
            'content-type': contentType,
            'x-slack-request-timestamp': String(seconds),
            'x-slack-signature': signature(secret, seconds, body),
            ...retryHeaders(request),
          },
          body,
        });
        return await outcomeOf(response);
      } catch {
        return noAnswer(timedOut ? 'http_timeout' : 'connection_failed');
      } finally {
        clearTimeout(timer);
        underWay.delete(controller);
      }
    },
  };
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

function encode(request: BotRequest): { readonly contentType: string; readonly body: string } {
  switch (request.kind) {
    case 'event':
      return { contentType: 'application/json', body: JSON.stringify(request.body) };
    case 'command':
      return { contentType: FORM, body: formOf(request.body) };
    case 'interactive':
      return { contentType: FORM, body: formOf({ payload: JSON.stringify(request.body) }) };
  }
}

function formOf(fields: JsonObject): string {
  const form = new URLSearchParams();
  for (const [key, value] of Object.entries(fields)) form.append(key, String(value));
  return form.toString();
}

function retryHeaders(request: BotRequest): Record<string, string> {
  if (request.retry === undefined) return {};
  return { 'x-slack-retry-num': String(request.retry.num), 'x-slack-retry-reason': request.retry.reason };
}

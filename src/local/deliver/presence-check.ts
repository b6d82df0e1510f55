import { z } from 'zod';
import type { Identity } from '../identity.js';
import { parsedJson } from '../parsed-json.js';
import { newSecret } from '../random.js';
import type { Postman } from './postman.js';
import { signature } from './signing.js';

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
  const seconds = Math.floor(Date.now() / 1_000);
  try {
    const response = await fetch(url, {
      method: 'POST',
      redirect: 'manual',
      signal: AbortSignal.timeout(3_000),
      headers: {
        'content-type': 'application/json',
        'x-slack-request-timestamp': String(seconds),
        'x-slack-signature': signature(identity.signingSecret, seconds, body),
      },
      body,
    });
    return parsedJson(await response.text(), Challenge)?.challenge === challenge;
  } catch {
    return false;
  }
}

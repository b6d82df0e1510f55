import { WebClient, type WebClientOptions } from '@slack/web-api';
import type { Log } from '../runtime/log.js';
import { boltLogger } from './bolt-logger.js';
import { plainFetch } from './plain-fetch.js';

/**
 * How every Web API call is made: no waiting and no second try inside the client. The keeper decides when
 * to try again, since only it knows whether a post may have got through.
 */
export function webOptions(apiUrl: string | null, log: Log): WebClientOptions {
  return {
    ...(apiUrl === null ? {} : { slackApiUrl: apiUrl }),
    fetch: plainFetch,
    retryConfig: { retries: 0 },
    timeout: 10_000,
    rejectRateLimitedCalls: true,
    logger: boltLogger(log),
  };
}

export function createWeb(token: string, apiUrl: string | null, log: Log): WebClient {
  return new WebClient(token, webOptions(apiUrl, log));
}

import { type Logger, LogLevel } from '@slack/bolt';
import { WebClient, type WebClientOptions } from '@slack/web-api';
import type { Log } from '../../runtime/log.js';

export function createWeb(token: string, apiUrl: string | null, log: Log): WebClient {
  return new WebClient(token, webOptions(apiUrl, log));
}

/**
 * How every Web API call is made: no waiting and no second try inside the client. The keeper decides when
 * to try again, since only it knows whether a post may have got through.
 */
export function webOptions(apiUrl: string | null, log: Log): WebClientOptions {
  return {
    ...(apiUrl === null ? {} : { slackApiUrl: apiUrl }),
    retryConfig: { retries: 0 },
    timeout: 10_000,
    rejectRateLimitedCalls: true,
    logger: boltLogger(log),
  };
}

/**
 * Bolt's log lines in ours; only their words, as their objects may hold what people wrote. Its debug lines
 * spell out whole requests and answers, notes and all: they are never logged, at any level.
 */
export function boltLogger(log: Log): Logger {
  const words = (parts: readonly unknown[]) => parts.filter((part) => typeof part === 'string').join(' ');
  return {
    debug: () => {},
    info: (...parts) => log.debug(words(parts)),
    warn: (...parts) => log.warn(words(parts)),
    error: (...parts) => log.error(words(parts)),
    setLevel: () => {},
    getLevel: () => LogLevel.INFO,
    setName: () => {},
  };
}

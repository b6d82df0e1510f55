import { setTimeout as pause } from 'node:timers/promises';
import { type Logger, LogLevel } from '@slack/bolt';
import type { WebClient, WebClientOptions } from '@slack/web-api';
import { z } from 'zod';
import type { Log } from '../../runtime/log.js';
import type { Identity } from '../runtime.js';
import { readFailure } from './call-failure.js';

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

/** The bot cannot start; the message says in one line why and what to do. */
export class StartProblem extends Error {
  override readonly name = 'StartProblem';
}

const AuthTest = z.object({ team_id: z.string(), user_id: z.string(), bot_id: z.string() });
const LONGEST_WAIT_MS = 30_000;

/**
 * Asks Slack who the bot is, and keeps asking while Slack does not answer.
 *
 * @throws StartProblem when Slack refuses the token
 */
export async function introduce(web: WebClient, log: Log): Promise<Identity> {
  for (let attempt = 0; ; attempt += 1) {
    try {
      const answer = AuthTest.parse(await web.auth.test());
      return { workspace: answer.team_id, botUserId: answer.user_id, botId: answer.bot_id };
    } catch (error) {
      const failure = readFailure(error);
      if (failure.kind === 'refused')
        throw new StartProblem(
          `Slack does not accept SLACK_BOT_TOKEN (${failure.error}). Copy the bot token again from the app's OAuth page, or install the app anew.`,
        );
      const waitMs =
        failure.kind === 'rate limited' ? failure.retryMs : Math.min(500 * 2 ** attempt, LONGEST_WAIT_MS);
      log.warn({ failure, waitMs }, 'Slack does not answer yet; asking again');
      await pause(waitMs);
    }
  }
}

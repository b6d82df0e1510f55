import { setTimeout as pause } from 'node:timers/promises';
import type { WebClient } from '@slack/web-api';
import { z } from 'zod';
import type { Log } from '../../runtime/log.js';
import type { Identity } from '../runtime.js';
import { readFailure } from './call-failure.js';

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

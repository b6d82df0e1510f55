import type { WebClient } from '@slack/web-api';
import { z } from 'zod';

/** Who the bot is, as Slack says; asked once at start. */
export type Identity = {
  readonly workspace: string;
  readonly botUserId: string;
  readonly botId: string;
};

const AuthTest = z.object({ team_id: z.string(), user_id: z.string(), bot_id: z.string() });

/** @throws the Web API's error, as when the token is not valid */
export async function whoAmI(web: WebClient): Promise<Identity> {
  const answer = AuthTest.parse(await web.auth.test());
  return { workspace: answer.team_id, botUserId: answer.user_id, botId: answer.bot_id };
}

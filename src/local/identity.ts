import { newSecret } from './random.js';
import type { Scenario } from './scenario.js';
import { type Db, readFact, writeFact } from './state/database.js';
import { freeId } from './state/people.js';

/** The workspace's and the bot's ids and secrets, made once and kept with the state. */
export type Identity = {
  readonly teamId: string;
  readonly teamName: string;
  readonly domain: string;
  readonly appId: string;
  readonly botId: string;
  readonly botUserId: string;
  readonly botName: string;
  readonly signingSecret: string;
  /** Slack's old verification token, carried in payloads and of no use. */
  readonly verificationToken: string;
  readonly botToken: string;
  readonly appToken: string;
  readonly commands: ReadonlySet<string>;
};

export function loadIdentity(db: Db, scenario: Scenario): Identity {
  const nobody = () => false;
  const fact = (key: string, make: () => string): string => {
    const known = readFact(db, key);
    if (known !== undefined) return known;
    const made = make();
    writeFact(db, key, made);
    return made;
  };
  return {
    teamId: fact('team_id', () => freeId('T', scenario.workspace.domain, nobody)),
    teamName: scenario.workspace.name,
    domain: scenario.workspace.domain,
    appId: fact('app_id', () => freeId('A', scenario.bot.name, nobody)),
    botId: fact('bot_id', () => freeId('B', scenario.bot.name, nobody)),
    botUserId: fact('bot_user_id', () => freeId('U', scenario.bot.name, nobody)),
    botName: scenario.bot.name,
    signingSecret: fact('signing_secret', newSecret),
    verificationToken: fact('verification_token', newSecret),
    botToken: fact('bot_token', () => `xoxb-local-${newSecret()}`),
    appToken: fact('app_token', () => `xapp-local-${newSecret()}`),
    commands: new Set(scenario.bot.commands),
  };
}

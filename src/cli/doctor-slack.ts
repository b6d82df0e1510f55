import { WebClient } from '@slack/web-api';
import { z } from 'zod';
import type { Config, Connection } from '../app/config.js';
import { createLog } from '../runtime/log.js';
import { readFailure } from '../slack/out/call-failure.js';
import { neededScopes } from '../slack/out/methods.js';
import { webOptions } from '../slack/out/web-api.js';
import { bad, type Finding, good } from './finding.js';

type Remote = Exclude<Connection, { readonly mode: 'local' }>;

/** Slack refuses requests signed more than five minutes from its own time. */
const SKEW_S = 60;

/** Are the tokens good, all scopes granted, the clock right, and is the bot where its tables are? */
export async function checkSlack(
  config: Config,
  connection: Remote,
  channels: readonly string[],
): Promise<readonly Finding[]> {
  const web = new WebClient(connection.botToken, webOptions(config.slackApiUrl, createLog('silent')));
  try {
    const answer = await web.auth.test();
    const granted = answer.response_metadata?.scopes ?? [];
    return [
      good(`bot token: ${answer.user ?? 'the bot'} in ${answer.team ?? 'the workspace'}`),
      ...checkScopes(granted),
      ...(await checkAppToken(config, connection)),
      ...(await checkClock(config)),
      ...(await checkChannels(web, channels)),
    ];
  } catch (error) {
    const failure = readFailure(error);
    return [
      failure.kind === 'refused'
        ? bad(
            `bot token: Slack says ${failure.error}`,
            'Copy SLACK_BOT_TOKEN again from OAuth & Permissions.',
          )
        : bad(`Slack does not answer: ${failure.error}`, 'Check the network, a proxy, and status.slack.com.'),
    ];
  }
}

export function checkScopes(granted: readonly string[]): readonly Finding[] {
  const needed = neededScopes();
  const missing = needed.filter((scope) => !granted.includes(scope));
  const more = granted.filter((scope) => !needed.includes(scope));
  return [
    missing.length === 0
      ? good('scopes: all granted')
      : bad(
          `scopes missing: ${missing.join(', ')}`,
          "Bring the app's manifest up to manifest.json, then install the app to the workspace again.",
        ),
    ...(more.length === 0
      ? []
      : [
          bad(
            `scopes the bot does not use: ${more.join(', ')}`,
            'Take them out of the app and install it again.',
          ),
        ]),
  ];
}

async function checkAppToken(config: Config, connection: Remote): Promise<readonly Finding[]> {
  if (connection.mode !== 'socket') return [];
  const web = new WebClient(connection.appToken, webOptions(config.slackApiUrl, createLog('silent')));
  try {
    await web.apiCall('apps.connections.open');
    return [good('app token: Socket Mode opens')];
  } catch (error) {
    return [
      bad(
        `app token: ${readFailure(error).error}`,
        'Make an app-level token with connections:write (Basic Information), and turn Socket Mode on.',
      ),
    ];
  }
}

async function checkClock(config: Config): Promise<readonly Finding[]> {
  const base = config.slackApiUrl ?? 'https://slack.com/api/';
  const answer = await fetch(new URL('api.test', base), { method: 'POST' });
  const date = answer.headers.get('date');
  if (date === null) return [];
  const skewS = Math.round((Date.now() - new Date(date).getTime()) / 1000);
  return [
    Math.abs(skewS) <= SKEW_S
      ? good('clock: agrees with Slack')
      : bad(
          `clock: ${skewS} s off from Slack`,
          'Turn time synchronisation (NTP) on; past 300 s nothing works.',
        ),
  ];
}

const Info = z.object({
  channel: z.object({
    name: z.string().optional(),
    is_member: z.boolean().optional(),
    is_archived: z.boolean().optional(),
  }),
});

async function checkChannels(web: WebClient, channels: readonly string[]): Promise<readonly Finding[]> {
  const findings: Finding[] = [];
  for (const id of channels) findings.push(await checkChannel(web, id));
  return findings;
}

async function checkChannel(web: WebClient, id: string): Promise<Finding> {
  try {
    const { channel } = Info.parse(await web.conversations.info({ channel: id }));
    const name = channel.name ? `#${channel.name}` : id;
    if (channel.is_archived) return bad(`${name} is archived`, 'Unarchive it, or move its tastings.');
    return channel.is_member
      ? good(`${name}: the bot is in it`)
      : bad(`${name}: the bot is not in it`, `Type /invite @Tallyspoon in ${name}.`);
  } catch (error) {
    return bad(`${id}: ${readFailure(error).error}`, 'Invite the bot to the channel.');
  }
}

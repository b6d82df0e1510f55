import { App, HTTPReceiver, LogLevel, type Receiver } from '@slack/bolt';
import { type Logger, WebClient } from '@slack/web-api';
import { onTestFinished } from 'vitest';
import { personClient } from '../../src/local/person-client.js';
import { fernhollow } from '../../src/local/scenario.js';
import { startWorkspace, type Workspace, type WorkspaceOptions } from '../../src/local/workspace.js';

export const ids = {
  ines: 'U00000INES',
  bram: 'U00000BRAM',
  noor: 'U00000NOOR',
  teo: 'U000000TEO',
  channel: 'CTASTINGTABLE',
} as const;

/** A workspace of its own for one test, the real client of Slack, and people to act in it. */
export async function openWorkspace(options: Partial<WorkspaceOptions> = {}) {
  const workspace = await startWorkspace({ scenario: fernhollow, ...options });
  onTestFinished(() => workspace.close());
  return { workspace, people: personClient(workspace.url), slack: clientOf(workspace) };
}

/** Refusals are what many tests are after: the client need not print them. */
export const silent: Logger = {
  debug: () => undefined,
  info: () => undefined,
  warn: () => undefined,
  error: () => undefined,
  setLevel: () => undefined,
  getLevel: () => LogLevel.ERROR,
  setName: () => undefined,
};

/** Slack's own client, pointed at the workspace, that tries everything once. */
export function clientOf(workspace: Workspace, token: string = workspace.botToken): WebClient {
  return new WebClient(token, {
    slackApiUrl: workspace.apiUrl,
    retryConfig: { retries: 0 },
    rejectRateLimitedCalls: true,
    logger: silent,
    timeout: 5_000,
  });
}

/** A real Bolt app that is told where Slack is and listens for it over HTTP. */
export async function startBolt(
  workspace: Workspace,
  listen: (app: App) => void,
  signingSecret: string = workspace.signingSecret,
): Promise<App> {
  const receiver = new HTTPReceiver({ signingSecret, logger: silent });
  const app = boltApp(workspace, receiver);
  listen(app);
  await app.start({ port: 0, host: '127.0.0.1' });
  onTestFinished(async () => {
    await app.stop();
  });
  workspace.connectBot(`http://127.0.0.1:${portOf(receiver)}/slack/events`);
  return app;
}

export function boltApp(workspace: Workspace, receiver: Receiver): App {
  return new App({
    token: workspace.botToken,
    receiver,
    logger: silent,
    convoStore: false,
    clientOptions: { slackApiUrl: workspace.apiUrl },
  });
}

function portOf(receiver: HTTPReceiver): number {
  // The receiver keeps its server private, and has no other way to say which port it was given.
  const server: unknown = Reflect.get(receiver, 'server');
  if (
    typeof server === 'object' &&
    server !== null &&
    'address' in server &&
    typeof server.address === 'function'
  ) {
    const address: unknown = server.address();
    if (typeof address === 'object' && address !== null && 'port' in address) return Number(address.port);
  }
  throw new Error('the receiver does not listen');
}

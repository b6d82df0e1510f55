import { App, type Receiver } from '@slack/bolt';
import { boltLogger } from './bolt-logger.js';
import { CardStillInFlight } from './card-in-flight.js';
import { listenForEvents } from './event-intake.js';
import type { House } from './house.js';
import { listenForSubmissions } from './submission-listener.js';
import { listenForTaps } from './tap-listener.js';
import { listenForCommands } from './typed-listener.js';
import { webOptions } from './web.js';

export type AppOptions = {
  readonly receiver: Receiver;
  readonly botToken: string;
  readonly apiUrl: string | null;
};

/**
 * The Bolt app: one listener of each kind, routed inside, as every listener costs every request. Errors
 * that reach Bolt are thrown on, so that Slack hears 500 and sends an event again.
 */
export function createApp(house: House, { receiver, botToken, apiUrl }: AppOptions): App {
  const { log } = house.deps;
  const app = new App({
    receiver,
    token: botToken,
    botId: house.me.botId,
    botUserId: house.me.botUserId,
    clientOptions: webOptions(apiUrl, log),
    convoStore: false,
    extendedErrorHandler: true,
    processBeforeResponse: true,
    logger: boltLogger(log),
  });
  listenForCommands(app, house);
  listenForTaps(app, house);
  listenForSubmissions(app, house);
  listenForEvents(app, house);
  app.error(async ({ error }: { readonly error: Error }) => {
    if (error instanceof CardStillInFlight) log.info(`${error.message}; Slack will send it again`);
    else {
      house.counters.failed.inc({ where: 'listener' });
      log.error({ err: error }, 'a listener failed; Slack will send an event again');
    }
    throw error;
  });
  return app;
}

import { App, type Receiver } from '@slack/bolt';
import { boltLogger, webOptions } from '../out/web-api.js';
import type { Runtime } from '../runtime.js';
import { CardStillInFlight, listenForEvents } from './event-listener.js';
import { listenForCommands, listenForForms, listenForTaps } from './interactions.js';

/**
 * The Bolt app: one listener of each kind, routed inside, as every listener costs every request. Errors
 * that reach Bolt are thrown on, so that Slack hears 500 and sends an event again.
 */
export function createApp(
  runtime: Runtime,
  receiver: Receiver,
  botToken: string,
  apiUrl: string | null,
): App {
  const { log } = runtime.deps;
  const app = new App({
    receiver,
    token: botToken,
    botId: runtime.me.botId,
    botUserId: runtime.me.botUserId,
    clientOptions: webOptions(apiUrl, log),
    convoStore: false,
    extendedErrorHandler: true,
    processBeforeResponse: true,
    logger: boltLogger(log),
  });
  listenForCommands(app, runtime);
  listenForTaps(app, runtime);
  listenForForms(app, runtime);
  listenForEvents(app, runtime);
  app.error(async ({ error }: { readonly error: Error }) => {
    if (error instanceof CardStillInFlight) log.info(`${error.message}; Slack will send it again`);
    else {
      runtime.counters.failed.inc({ where: 'listener' });
      log.error({ err: error }, 'a listener failed; Slack will send an event again');
    }
    throw error;
  });
  return app;
}

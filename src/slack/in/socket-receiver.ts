import { type App, type Receiver, type ReceiverEvent, SocketModeReceiver } from '@slack/bolt';
import type { Log } from '../../runtime/log.js';
import { boltLogger, webOptions } from '../out/web-api.js';
import { CardStillInFlight } from './event-listener.js';

/**
 * Bolt's receiver over a WebSocket. Bolt acknowledges an event before its listener runs, and here has no
 * `processBeforeResponse` as over HTTP, so that a crash would lose the event. The acknowledgement is therefore
 * held back until the listener is done, and is not given at all when it fails: then Slack sends the event again.
 */
export function createSocketReceiver(appToken: string, apiUrl: string | null, log: Log): Receiver {
  // The call that asks for a connection is tried again by the client itself.
  const { retryConfig: _, ...clientOptions } = webOptions(apiUrl, log);
  const bolt = new SocketModeReceiver({
    appToken,
    installerOptions: { clientOptions },
    logger: boltLogger(log),
    processEventErrorHandler: async ({ error }) => {
      if (!(error instanceof CardStillInFlight))
        log.error({ err: error }, 'an envelope was not acknowledged');
      return false;
    },
  });
  return {
    init: (app: App) => {
      const process = app.processEvent.bind(app);
      const processEvent = async (event: ReceiverEvent) => {
        let acknowledge: (() => Promise<void>) | undefined;
        const ack: ReceiverEvent['ack'] = async (response) => {
          acknowledge = () => event.ack(response);
        };
        await process({ ...event, ack });
        await acknowledge?.();
      };
      bolt.init(Object.assign(app, { processEvent }));
    },
    start: () => bolt.start(),
    stop: () => bolt.stop(),
  };
}

import type { ChangeFeed } from './changes.js';
import type { MovableClock } from './clock.js';
import type { EventCourier } from './deliver/event-courier.js';
import type { Postman } from './deliver/postman.js';
import type { Triggers } from './deliver/triggers.js';
import type { Faults } from './faults.js';
import type { Identity } from './identity.js';
import type { Db } from './state/database.js';

/** Everything that a request to the workspace may need. */
export type Context = {
  readonly db: Db;
  readonly clock: MovableClock;
  readonly identity: Identity;
  readonly changes: ChangeFeed;
  readonly faults: Faults;
  readonly newTs: () => string;
  readonly events: EventCourier;
  readonly postman: Postman;
  readonly triggers: Triggers;
  readonly activity: Activity;
  /** Scopes the bot's token was granted. */
  readonly scopes: ReadonlySet<string>;
  /** Events that the app is subscribed to. */
  readonly subscriptions: ReadonlySet<string>;
  /** Whether the app's commands have `should_escape` on. */
  readonly shouldEscape: boolean;
  /** Slack answers an upload first and shares it a little later: how much later here. */
  readonly shareDelayMs: number;
  /** The workspace's own address, without a slash at the end. */
  readonly url: () => string;
  /** What `apps.connections.open` answers; only in Socket Mode. */
  readonly socketUrl: (() => string) | undefined;
  /** Empties the workspace and fills it with its scenario again. */
  readonly startOver: () => void;
};

/** Work under way that a caller may want to see finished. */
export type Activity = {
  readonly during: <T>(work: () => Promise<T>) => Promise<T>;
  /** A Web API call begins or ends. */
  readonly called: () => void;
  readonly running: () => number;
  /** Resolves once nothing is under way. */
  readonly idle: () => Promise<void>;
  /** Real milliseconds since the last Web API call. */
  readonly quietFor: () => number;
};

export function activity(): Activity {
  let running = 0;
  let lastCall = 0;
  let waiting: (() => void)[] = [];
  return {
    during: async (work) => {
      running += 1;
      try {
        return await work();
      } finally {
        running -= 1;
        if (running === 0) {
          for (const resolve of waiting) resolve();
          waiting = [];
        }
      }
    },
    called: () => {
      lastCall = performance.now();
    },
    running: () => running,
    idle: () =>
      new Promise((resolve) => {
        if (running === 0) resolve();
        else waiting.push(resolve);
      }),
    quietFor: () => performance.now() - lastCall,
  };
}

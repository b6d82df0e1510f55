import type { Activity } from './activity.js';
import type { Change } from './api-types.js';
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

/** Tells open pages what has changed; nothing is kept. */
export type ChangeFeed = {
  readonly publish: (change: Change) => void;
  /** Answers how to stop listening. */
  readonly subscribe: (listener: (change: Change) => void) => () => void;
};

export function changeFeed(): ChangeFeed {
  const listeners = new Set<(change: Change) => void>();
  return {
    publish: (change) => {
      for (const listener of [...listeners]) listener(change);
    },
    subscribe: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}

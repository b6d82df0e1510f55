import type { WebClient } from '@slack/web-api';
import type { Bot, Deps } from '../commands/common/bot.js';
import type { Durability } from '../store/durability.js';
import type { Inbox } from '../store/inbox.js';
import type { Counters } from './counters.js';
import type { FormPlaces } from './form-places.js';
import type { Identity } from './identity.js';
import type { InHand } from './in-hand.js';
import type { RightOfWay } from './right-of-way.js';

/** What the parts of the Slack layer share. */
export type House = {
  readonly bot: Bot;
  readonly deps: Deps;
  readonly web: WebClient;
  readonly me: Identity;
  readonly inbox: Inbox;
  /** A transaction for what would be done again after a power cut. */
  readonly relaxed: Durability['relaxed'];
  readonly inHand: InHand;
  readonly counters: Counters;
  readonly formPlaces: FormPlaces;
  readonly rightOfWay: RightOfWay;
  /** Something may have changed: worker, keeper and reminders look again, or only the one that is named. */
  wake(only?: 'worker' | 'keeper'): void;
  /** How many rows were ever written; the same as before when nothing was, and then nobody need be woken. */
  rowsWritten(): number;
};

import type { WebClient } from '@slack/web-api';
import type { Bot, Deps } from '../commands/common/bot.js';
import type { RelaxedTransaction } from '../store/sqlite/open.js';
import type { Counters } from './counters.js';

/** Who the bot is, as Slack says; asked once at start. */
export type Identity = {
  readonly workspace: string;
  readonly botUserId: string;
  readonly botId: string;
};

/** A channel, or a thread in it. */
export type SlackPlace = { readonly channel: string; readonly threadTs: string | null };

/** Draws a picture (PNG) from what a notice asks for. */
export type PictureDrawer = (drawing: unknown) => Promise<Buffer>;
/** Draws a printable table sheet (PDF); `nameOf` tells how a person is called, for paper shows no mention. */
export type SheetDrawer = (sheet: unknown, nameOf: (person: string) => Promise<string>) => Promise<Buffer>;

/** What the parts of the Slack layer share. */
export type Runtime = {
  readonly bot: Bot;
  readonly deps: Deps;
  readonly relaxed: RelaxedTransaction;
  readonly web: WebClient;
  readonly me: Identity;
  readonly counters: Counters;
  readonly drawPicture: PictureDrawer;
  readonly drawSheet: SheetDrawer;
  /** Work that has begun and must be finished before the database closes. */
  readonly inFlight: Set<Promise<unknown>>;
  /** Each person's direct messages with the bot, once they were opened. */
  readonly directMessages: Map<string, string>;
  /** Where an open form was opened from, by its id, so that what is said after submitting it appears there. */
  readonly formPlaces: Map<string, SlackPlace>;
  /** Has a thread read again in the background, as word of what happened there may never have come. */
  rereadThread(channel: string, threadTs: string): void;
  /** Something may have changed: every loop looks again. */
  wake(): void;
};

/** Sees to it that work nobody waits for is finished before the database closes; what it throws is logged. */
export function track({ inFlight, deps }: Pick<Runtime, 'inFlight' | 'deps'>, work: Promise<unknown>): void {
  const ended = work
    .catch((error: unknown) => deps.log.error({ err: error }, 'work in the background failed'))
    .finally(() => inFlight.delete(ended));
  inFlight.add(ended);
}

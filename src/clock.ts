/** Where the bot takes the time from; handed in, so that a tasting's weeks can pass in a test. */
export type Clock = {
  now(): Date;
  /** Calls back when the time was moved by hand (never in real use); returns how to stop listening. */
  onMove(listener: () => void): () => void;
};

/** The machine's own clock. */
export const systemClock: Clock = { now: () => new Date(), onMove: () => () => {} };

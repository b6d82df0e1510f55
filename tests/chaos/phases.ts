/** The lives of the bot, counted from 1; what people do is spread over them. */
export type Phases = {
  readonly now: () => number;
  readonly enter: (phase: number) => void;
  /** Resolves once this life has begun, or at once when it has. */
  readonly reached: (phase: number) => Promise<void>;
  /** How many lives the script lags behind its plan. */
  readonly lag: () => number;
  /** Tells for which life the work that is under way was planned; null when there is none left. */
  readonly working: (plannedFor: number | null) => void;
};

export function createPhases(): Phases {
  let current = 0;
  let planned: number | null = null;
  let waiting: { readonly phase: number; readonly resolve: () => void }[] = [];
  return {
    now: () => current,
    enter: (phase) => {
      current = phase;
      const due = waiting.filter((one) => one.phase <= phase);
      waiting = waiting.filter((one) => one.phase > phase);
      for (const { resolve } of due) resolve();
    },
    reached: (phase) =>
      new Promise((resolve) => {
        if (phase <= current) resolve();
        else waiting.push({ phase, resolve });
      }),
    lag: () => (planned === null ? 0 : current - planned),
    working: (plannedFor) => {
      planned = plannedFor;
    },
  };
}

/** Which method may not be called yet in which place, as Slack asked to wait; everything else goes on. */
export type Pauses = {
  pause(method: string, milliseconds: number): void;
  /** Milliseconds still to wait, 0 when free. */
  remaining(method: string): number;
};

export function createPauses(now: () => Date): Pauses {
  const until = new Map<string, number>();
  return {
    pause: (method, milliseconds) => until.set(method, now().getTime() + milliseconds),
    remaining: (method) => Math.max((until.get(method) ?? 0) - now().getTime(), 0),
  };
}

import { setImmediate as letRequestsIn } from 'node:timers/promises';
import type { Runtime } from './runtime.js';

/** Work that goes round while there is some, and sleeps until it is woken or its time comes. */
export type Loop = {
  wake(): void;
  /** True while it works or was woken. */
  readonly busy: boolean;
  /** When the turn that is under way began, to notice one that hangs. */
  readonly since: Date | null;
  /** Ends after the turn that is under way. */
  stop(): Promise<void>;
};

/** Even an undisturbed loop looks again this often, in case a wake-up was missed. */
const LOOK_AGAIN_MS = 5_000;
const AFTER_FAILURE_MS = 1_000;

/**
 * `turn` does one piece of work and says how many milliseconds from now the next one is due: 0 for at once,
 * null for whenever it is woken.
 */
export function createLoop(
  name: string,
  { deps, counters }: Pick<Runtime, 'deps' | 'counters'>,
  turn: () => Promise<number | null>,
): Loop {
  let woken = false;
  let stopped = false;
  let since: Date | null = null;
  let timer: NodeJS.Timeout | undefined;
  let current: Promise<void> = Promise.resolve();

  async function run(): Promise<void> {
    while (woken && !stopped) {
      woken = false;
      since = new Date();
      const nextMs = await turn().catch(failed);
      if (nextMs === 0) woken = true;
      else sleep(nextMs ?? LOOK_AGAIN_MS);
      await letRequestsIn();
    }
    since = null;
  }

  function failed(error: unknown): number | null {
    if (stopped) return null;
    counters.failed.inc({ where: name });
    deps.log.error({ err: error, loop: name }, 'a turn failed and is tried again');
    return AFTER_FAILURE_MS;
  }

  function sleep(milliseconds: number): void {
    clearTimeout(timer);
    timer = setTimeout(wake, Math.min(milliseconds, LOOK_AGAIN_MS));
    timer.unref();
  }

  function wake(): void {
    woken = true;
    if (since !== null || stopped) return;
    since = new Date();
    current = run();
  }

  return {
    wake,
    get busy() {
      return !stopped && (woken || since !== null);
    },
    get since() {
      return since;
    },
    async stop() {
      stopped = true;
      clearTimeout(timer);
      await current;
    },
  };
}

/**
 * Who goes first. Slack's requests do, as Slack waits three seconds and a person waits with it; then the notes
 * that are to be counted; then what is to be shown. Everything runs on one thread, so the others take small
 * steps and ask before each.
 */
export type RightOfWay = {
  /** A request is being answered until the function returned is called. */
  answering(): () => void;
  /** Whether events wait to be counted. */
  counting(isBusy: boolean): void;
  /** Resolves when the next step of counting may be taken. */
  toCount(): Promise<void>;
  /** Resolves when the next step of showing may be taken. */
  toShow(): Promise<void>;
  /** Milliseconds since the last request was answered; 0 while one is being answered. */
  quietMs(): number;
};

/** After an answer the next request may be on its way already. */
const QUIET_MS = 2;
/** When requests never cease, one step is taken this often all the same, of counting and showing in turn. */
const STEP_ANYWAY_MS = 1000;
const LOOK_MS = 1;

export function createRightOfWay(): RightOfWay {
  const toCount: (() => void)[] = [];
  const toShow: (() => void)[] = [];
  let requests = 0;
  let answeredAt = Number.NEGATIVE_INFINITY;
  let isCounting = false;
  let steppedAt = performance.now();
  /** One step, then whatever requests have come in meanwhile. */
  let justStepped = false;
  let countsNext = true;
  let isLooking = false;

  const quietMs = () => (requests > 0 ? 0 : performance.now() - answeredAt);
  const isQuiet = () => quietMs() >= QUIET_MS;

  function next(): (() => void) | undefined {
    if (isQuiet()) return toCount.shift() ?? (isCounting ? undefined : toShow.shift());
    return undefined;
  }

  function anyway(): (() => void) | undefined {
    if (performance.now() - steppedAt < STEP_ANYWAY_MS) return undefined;
    const [first, second] = countsNext ? [toCount, toShow] : [toShow, toCount];
    countsNext = !countsNext;
    return first.shift() ?? second.shift();
  }

  function stepping(): void {
    steppedAt = performance.now();
    justStepped = true;
    setImmediate(() => {
      justStepped = false;
    });
  }

  function look(): void {
    isLooking = false;
    const step = next() ?? anyway();
    if (step) {
      stepping();
      step();
    }
    if (toCount.length > 0 || toShow.length > 0) lookAgain(step !== undefined);
  }

  /** At once is after the requests that have come in. */
  function lookAgain(atOnce: boolean): void {
    if (isLooking) return;
    isLooking = true;
    if (atOnce) setImmediate(look);
    else setTimeout(look, LOOK_MS);
  }

  function wait(line: (() => void)[], mayGo: boolean): Promise<void> {
    if (mayGo && !justStepped) {
      stepping();
      return Promise.resolve();
    }
    return new Promise((resolve) => {
      line.push(resolve);
      lookAgain(mayGo);
    });
  }

  return {
    answering() {
      requests += 1;
      let isAnswered = false;
      return () => {
        if (isAnswered) return;
        isAnswered = true;
        requests -= 1;
        answeredAt = performance.now();
      };
    },
    counting(isBusy) {
      isCounting = isBusy;
    },
    toCount: () => wait(toCount, isQuiet() && toCount.length === 0),
    toShow: () => wait(toShow, isQuiet() && !isCounting && toShow.length === 0),
    quietMs,
  };
}

import { setTimeout as sleep } from 'node:timers/promises';
import { badDay } from './bad-days.js';
import { type BotProcess, standBy } from './bot-process.js';
import { type Dice, throwDice } from './dice.js';
import { happens } from './insist.js';
import { lostAfterAck } from './lost-after-ack.js';
import type { World } from './world.js';

/** One life of the bot: how it came to its end and how long it took to start. */
export type Life = {
  readonly phase: number;
  readonly killed: string;
  /** Milliseconds from go to listening, or null when it was killed before. */
  readonly startMs: number | null;
  readonly livedMs: number;
  readonly violations: readonly string[];
};

const LONGEST_START_MS = 120_000;
/** The script may lag this many lives behind its plan; then the bot is let live until it has caught up. */
const LAG = 3;
const CATCH_UP_MS = 8_000;
const STEP_MS = 60_000;

/** Starts the bot and kills it this many times; what it leaves is looked at after each. */
export async function killRepeatedly(
  world: World,
  kills: number,
  onLife: (life: Life) => void,
): Promise<void> {
  const dice = throwDice(world.seed, 'lives');
  const watch = await watchMessages(world);
  let next = standBy(world.environment, world.log);
  try {
    for (let phase = 1; phase <= kills; phase += 1) {
      const rules = badDay(throwDice(world.seed * 1000 + phase, 'faults'));
      await world.client.post('faults', { seed: world.seed * 1000 + phase, rules });
      const current = next;
      next = standBy(world.environment, world.log);
      // Nobody waits for the clock: who holds the table quiet may be waiting for the next life of the bot.
      void timePasses(world, dice, kills).catch(() => {});
      onLife(await liveAndDie(world, current.start(), phase, dice, watch));
    }
  } finally {
    next.discard();
    watch.stop();
  }
}

async function liveAndDie(
  world: World,
  bot: BotProcess,
  phase: number,
  dice: Dice,
  watch: Watch,
): Promise<Life> {
  const began = performance.now();
  world.phases.enter(phase);
  const violations: string[] = [];
  let startMs: number | null = null;
  let killed = 'while it was starting';
  if (dice.chance(0.08)) await sleep(dice.between(1, 200));
  else {
    const url = await Promise.race([bot.listening, sleep(LONGEST_START_MS, null, { ref: false })]);
    if (url === null) violations.push(`life ${phase}: the bot did not come up`);
    else world.workspace.connectBot(url);
    startMs = performance.now() - began;
    killed = await fatalMoment(world, dice, watch);
  }
  const exit = await bot.end('SIGKILL');
  if (exit !== null) violations.push(`life ${phase}: the bot ended by itself with ${exit}`);
  violations.push(...lostAfterAck(world, phase));
  return { phase, killed, startMs, livedMs: performance.now() - began, violations };
}

/** Waits for the moment of the kill: after some time, at an acknowledgement, or when a message has changed. */
async function fatalMoment(world: World, dice: Dice, watch: Watch): Promise<string> {
  const longest = dice.between(60, 900);
  const kind = dice.oneOf(['time', 'acknowledgement', 'message'] as const);
  const nth = dice.between(1, kind === 'message' ? 8 : 5);
  await happens(() => world.phases.lag() <= LAG, CATCH_UP_MS);
  const time = sleep(longest, `after ${longest} ms`, { ref: false });
  if (kind === 'time') return time;
  const moment = new Promise<string>((resolve) => {
    let seen = 0;
    const one = () => {
      seen += 1;
      if (seen === nth) resolve(`at ${kind} ${nth}`);
    };
    if (kind === 'acknowledgement') world.onAcknowledged = one;
    else watch.onMessage = one;
  });
  const killed = await Promise.race([time, moment]);
  world.onAcknowledged = () => {};
  watch.onMessage = () => {};
  return killed;
}

/** Some of a tasting's two hours go by in each life, which brings retries and second tries. */
async function timePasses(world: World, dice: Dice, kills: number): Promise<void> {
  const advance = Math.min(STEP_MS, Math.floor((45 * STEP_MS) / kills)) - dice.between(0, 5_000);
  await sleep(dice.between(100, 500));
  await world.quietly(() => world.client.clock({ advance: Math.max(1_000, advance) }));
}

type Watch = { onMessage: () => void; stop(): void };

/** Hears of every message that is posted, changed or deleted in the workspace. */
async function watchMessages(world: World): Promise<Watch> {
  const stopping = new AbortController();
  const response = await fetch(`${world.workspace.url}/local/stream`, { signal: stopping.signal });
  const watch: Watch = { onMessage: () => {}, stop: () => stopping.abort() };
  void listen(response, watch).catch(() => {});
  return watch;
}

async function listen(response: Response, watch: Watch): Promise<void> {
  if (!response.body) return;
  const decoder = new TextDecoder();
  for await (const chunk of response.body) {
    const told = decoder.decode(chunk, { stream: true }).split('"kind":"message"').length - 1;
    for (let one = 0; one < told; one += 1) watch.onMessage();
  }
}

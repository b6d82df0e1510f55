import { setTimeout as sleep } from 'node:timers/promises';
import { badDay, CUT_OFF, cutOff, isCutOff } from './bad-days.js';
import { type BotProcess, standBy } from './bot-process.js';
import { checkShownSoFar } from './check-notices.js';
import { checkFreshSecrets } from './check-secrets.js';
import { type Dice, throwDice } from './dice.js';
import { fatalMoment, watchMessages } from './fatal-moment.js';
import { lostAfterAck } from './lost-after-ack.js';
import { hireMarksman } from './marksman.js';
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
const STEP_MS = 60_000;

/** Starts the bot and kills it this many times; what it leaves is looked at after each. */
export async function killRepeatedly(
  world: World,
  kills: number,
  onLife: (life: Life) => void,
): Promise<void> {
  const dice = throwDice(world.seed, 'lives');
  const watch = await watchMessages(world);
  const marksman = hireMarksman();
  let next = standBy(world.environment, world.log);
  try {
    for (let phase = 1; phase <= kills; phase += 1) {
      const alone = isCutOff(world.seed, phase, kills);
      const rules = alone ? CUT_OFF : badDay(throwDice(world.seed * 1000 + phase, 'faults'));
      await world.client.post('faults', { seed: world.seed * 1000 + phase, rules });
      const current = next;
      next = standBy(world.environment, world.log);
      // Nobody waits for the clock: who holds the table quiet may be waiting for the next life of the bot.
      void timePasses(world, dice, kills).catch(() => {});
      const fate = alone
        ? () => cutOff(world)
        : (bot: BotProcess) => fatalMoment({ world, bot, dice, watch, marksman });
      onLife(await liveAndDie(world, current.start(), phase, dice, fate));
    }
  } finally {
    next.discard();
    watch.stop();
    await marksman.close();
  }
}

async function liveAndDie(
  world: World,
  bot: BotProcess,
  phase: number,
  dice: Dice,
  fate: (bot: BotProcess) => Promise<string>,
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
    killed = await fate(bot).catch(async (error: unknown) => {
      await bot.end('SIGKILL');
      throw error;
    });
  }
  const exit = await bot.end('SIGKILL');
  if (exit !== null) violations.push(`life ${phase}: the bot ended by itself with ${exit}`);
  violations.push(...lostAfterAck(world, phase), ...checkFreshSecrets(world, phase));
  violations.push(...checkShownSoFar(world, phase));
  return { phase, killed, startMs, livedMs: performance.now() - began, violations };
}

/** Some of a tasting's two hours go by in each life, which brings retries and second tries. */
async function timePasses(world: World, dice: Dice, kills: number): Promise<void> {
  const advance = Math.min(STEP_MS, Math.floor((45 * STEP_MS) / kills)) - dice.between(0, 5_000);
  await sleep(dice.between(100, 500));
  await world.quietly(() => world.client.clock({ advance: Math.max(1_000, advance) }));
}

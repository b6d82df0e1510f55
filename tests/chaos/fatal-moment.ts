import process from 'node:process';
import { setTimeout as sleep } from 'node:timers/promises';
import type { BotProcess } from './bot-process.js';
import type { Dice } from './dice.js';
import { happens } from './insist.js';
import { AIMS, type Aim, type Marksman, REMINDER_GIVEN } from './marksman.js';
import type { World } from './world.js';

/** The script may lag this many lives behind its plan; then the bot is let live until it has caught up. */
const LAG = 3;
const CATCH_UP_MS = 8_000;
/** The bot looks at the clock every tenth of a second. */
const REMINDERS_WITHIN_MS = 1_500;
const LONGEST_MS = 2_000;

type Scene = {
  readonly world: World;
  readonly bot: BotProcess;
  readonly dice: Dice;
  readonly watch: Watch;
  readonly marksman: Marksman;
};

/**
 * Waits for the moment of the kill: after some time, as an acknowledgement is heard, when a message has
 * changed, or at a commit. Where the clock is moved to the next reminders, three times in four the bot dies
 * as one of them is claimed.
 */
export async function fatalMoment(scene: Scene): Promise<string> {
  const { world, dice, marksman } = scene;
  const plan = planOf(scene);
  const nth = dice.chance(0.75) ? dice.oneOf([1, 1, 1, 2] as const) : 0;
  let reminder: Promise<string> | null = null;
  world.beforeReminders = () => {
    if (nth === 0 || reminder !== null) return;
    forget(scene);
    reminder = atCommit(scene, REMINDER_GIVEN, nth, REMINDERS_WITHIN_MS);
  };
  world.isUp = true;
  await happens(() => reminder !== null || world.phases.lag() <= LAG, CATCH_UP_MS);
  const killed = await (reminder ??
    Promise.race([plan(), sleep(LONGEST_MS, 'when nothing had come', { ref: false })]));
  // The clock may have been moved while that was waited for.
  const moment = (await reminder) ?? killed;
  world.isUp = false;
  world.beforeReminders = () => {};
  forget(scene);
  await marksman.idle();
  return moment;
}

/** Throws the dice for how this life is to end, and says how to wait for it. */
function planOf(scene: Scene): () => Promise<string> {
  const { world, bot, dice, watch } = scene;
  const kind = dice.oneOf(['time', 'acknowledgement', 'message', 'commit', 'commit', 'commit'] as const);
  const nth = dice.between(1, kind === 'message' ? 8 : 5);
  const aim = dice.oneOf(AIMS);
  const ms = dice.between(60, 900);
  if (kind === 'time') return () => sleep(ms, `after ${ms} ms`, { ref: false });
  if (kind === 'commit') return () => atCommit(scene, aim, Math.ceil(nth / 2), LONGEST_MS * 2);
  return () =>
    new Promise((resolve) => {
      let seen = 0;
      const one = () => {
        seen += 1;
        if (seen !== nth) return;
        // At once, before anything else happens here.
        process.kill(bot.pid, 'SIGKILL');
        resolve(`at ${kind} ${nth}`);
      };
      if (kind === 'acknowledgement') world.onAcknowledged = one;
      else watch.onMessage = one;
    });
}

async function atCommit({ world, bot, marksman }: Scene, aim: Aim, nth: number, withinMs: number) {
  const file = aim.file === 'bot' ? world.database : world.slack;
  const shot = marksman.aim(aim, file, nth, bot.pid);
  const timer = setTimeout(marksman.callOff, withinMs);
  const outcome = await shot;
  clearTimeout(timer);
  return outcome === 'killed' ? `when ${aim.what} (${nth})` : `in vain waiting until ${aim.what}`;
}

function forget({ world, watch, marksman }: Scene): void {
  world.onAcknowledged = () => {};
  watch.onMessage = () => {};
  marksman.callOff();
}

type Watch = { onMessage: () => void; stop(): void };

/** Hears of every message that is posted, changed or deleted in the workspace. */
export async function watchMessages(world: World): Promise<Watch> {
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

import { rmSync } from 'node:fs';
import { setTimeout as sleep } from 'node:timers/promises';
import { fernhollow } from '../../src/local/scenario.js';
import { standBy } from './bot-process.js';
import { checkHouse } from './check-house.js';
import { checkNotes } from './check-notes.js';
import { checkNotices } from './check-notices.js';
import { checkLog, checkSecrets } from './check-secrets.js';
import { playHost, type Table } from './host-script.js';
import { happens } from './insist.js';
import { killRepeatedly, type Life } from './lives.js';
import { count } from './look.js';
import { lostAfterAck } from './lost-after-ack.js';
import { playTasters, takesBackFirst } from './taster-script.js';
import { openWorld, type World } from './world.js';

export type ChaosResult = {
  readonly seed: number;
  readonly kills: number;
  readonly ms: number;
  readonly notes: number;
  readonly chatter: number;
  readonly events: number;
  readonly calls: number;
  /** Milliseconds from go to listening, the middle one. */
  readonly startMs: number;
  readonly violations: readonly string[];
  /** Kept with the databases and the log when something is wrong. */
  readonly folder: string | null;
};

const SETTLE_MS = 90_000;
const ROUND_MS = 150;
/** Slack's last retry comes after five minutes, the keeper's longest wait is one. */
const ROUND_ADVANCE_MS = 90_000;

/** One whole tasting under faults and kills, judged at the end. */
export async function runChaos(
  seed: number,
  kills: number,
  onLife: (life: Life) => void,
): Promise<ChaosResult> {
  const began = performance.now();
  const world = await openWorld(seed);
  const lives: Life[] = [];
  const violations: string[] = [];
  try {
    await play(world, kills, violations, (life) => {
      lives.push(life);
      violations.push(...life.violations);
      onLife(life);
    });
    violations.push(...checkNotes(world), ...(await checkNotices(world)), ...checkHouse(world));
    violations.push(...world.lostAtAck, ...checkSecrets(world), ...checkLog(world));
  } catch (error) {
    violations.push(`the run could not go on: ${error instanceof Error ? error.message : String(error)}`);
  }
  const result = summary(world, kills, lives, violations, performance.now() - began);
  await world.close();
  if (violations.length === 0) rmSync(world.folder, { recursive: true, force: true });
  return result;
}

async function play(
  world: World,
  kills: number,
  violations: string[],
  onLife: (life: Life) => void,
): Promise<void> {
  const table: Table = { stage: null };
  const script = Promise.all([playHost(world, table, kills), playTasters(world, table, kills)]);
  script.catch(() => {});
  await killRepeatedly(world, kills, onLife);
  await world.client.clearFaults();
  const bot = standBy(world.environment, world.log).start();
  world.phases.enter(kills + 1);
  try {
    const url = await bot.listening;
    if (url === null) throw new Error('the bot does not start any more');
    world.workspace.connectBot(url);
    await script;
    await takesBackFirst(world);
    // A home tab is made when it is opened.
    for (const { name } of fernhollow.people)
      await world.client.post('home-opened', { as: world.id(name), tab: 'home' });
    if (!(await settles(world))) violations.push(`the bot did not come to rest: ${whatIsLeft(world)}`);
    violations.push(...lostAfterAck(world, kills + 1));
  } finally {
    const code = await bot.end('SIGTERM');
    if (code !== 0) violations.push(`asked to end, the bot ended with ${code}`);
  }
}

/** Lets time pass until every retry has come and nothing is left to do. */
async function settles(world: World): Promise<boolean> {
  const until = Date.now() + SETTLE_MS;
  for (let rounds = 0; Date.now() < until; rounds += 1) {
    await world.client.clock({ advance: ROUND_ADVANCE_MS });
    await sleep(ROUND_MS);
    const heard = await world.client.settled({ timeoutMs: 20_000 });
    if (heard && rounds >= 5 && (await happens(() => whatIsLeft(world) === '', 300))) {
      await sleep(ROUND_MS);
      if ((await world.client.settled({ timeoutMs: 20_000 })) && whatIsLeft(world) === '') return true;
    }
  }
  return false;
}

function whatIsLeft(world: World): string {
  const now = world.workspace.clock.now().toISOString();
  const left: readonly (readonly [string, number])[] = [
    ['events', count(world.database, "select 1 from inbox where state = 'waiting'")],
    ['changes', count(world.database, 'select 1 from changed')],
    [
      'notices',
      count(
        world.database,
        "select 1 from notice where wanted_hash is not shown_hash and state <> 'stopped' and not (ts is null and json_type(wanted_json, '$.message') = 'null')",
      ),
    ],
    [
      'reminders',
      count(
        world.database,
        'select 1 from reminder where fired_at is null and cancelled_at is null and due_at <= ?',
        now,
      ),
    ],
  ];
  return left
    .filter(([, n]) => n > 0)
    .map(([what, n]) => `${n} ${what}`)
    .join(', ');
}

function summary(
  world: World,
  kills: number,
  lives: readonly Life[],
  violations: readonly string[],
  ms: number,
): ChaosResult {
  const starts = lives.flatMap(({ startMs }) => (startMs === null ? [] : [startMs])).sort((a, b) => a - b);
  return {
    seed: world.seed,
    kills,
    ms: Math.round(ms),
    notes: world.expected.notes.size,
    chatter: world.expected.secrets.length,
    events: world.events,
    calls: count(world.slack, 'select 1 from call'),
    startMs: Math.round(starts[Math.floor(starts.length / 2)] ?? 0),
    violations,
    folder: violations.length === 0 ? null : world.folder,
  };
}

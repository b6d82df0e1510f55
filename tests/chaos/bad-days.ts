import { setTimeout as sleep } from 'node:timers/promises';
import type { z } from 'zod';
import type { FaultsRequest } from '../../src/local/faults.js';
import { type Dice, throwDice } from './dice.js';
import { happens } from './insist.js';
import type { World } from './world.js';

type Rule = z.infer<typeof FaultsRequest>['rules'][number];

const WORDS = ['message', 'message_changed', 'message_deleted', 'app_mention'];
const BY_PEOPLE = ['command', 'block_actions', 'view_submission'];
const SHOWING = [
  'chat.postMessage',
  'chat.update',
  'chat.delete',
  'chat.postEphemeral',
  'reactions.add',
  'reactions.remove',
  'views.publish',
  'files.getUploadURLExternal',
  'files.completeUploadExternal',
];
const READING = ['conversations.history', 'conversations.replies', 'conversations.open', 'users.info'];

/** Slack's bad day for one life of the bot: everything can happen, and how often is thrown anew. */
export function badDay(dice: Dice): Rule[] {
  const often = (chance: number): { chance: number } => ({ chance: chance * dice.oneOf([0.3, 1, 1, 2]) });
  return [
    { kind: 'deliver-twice', only: WORDS, ...often(0.2), delayMs: dice.between(0, 400) },
    { kind: 'deliver-late', only: WORDS, ...often(0.15), delayMs: dice.between(50, 700) },
    { kind: 'deliver-out-of-order', only: ['message', 'message_changed'], ...often(0.3), holdMs: 600 },
    { kind: 'lose-delivery', only: WORDS, ...often(0.12) },
    { kind: 'drop-ack', only: WORDS, ...often(0.15) },
    { kind: 'slow-ack', only: WORDS, ...often(0.1), delayMs: dice.between(50, 400) },
    { kind: 'lose-delivery', only: BY_PEOPLE, ...often(0.12) },
    { kind: 'drop-ack', only: BY_PEOPLE, ...often(0.12) },
    { kind: 'rate-limit', methods: SHOWING, ...often(0.06), retryAfter: 1 },
    { kind: 'server-error', methods: SHOWING, ...often(0.05) },
    { kind: 'refuse', methods: SHOWING, ...often(0.03), error: 'internal_error' },
    { kind: 'time-out', methods: SHOWING, ...often(0.04), holdMs: 300 },
    {
      kind: 'time-out',
      methods: ['chat.postMessage', 'chat.update'],
      ...often(0.06),
      holdMs: 300,
      done: true,
    },
    { kind: 'cut-before', methods: SHOWING, ...often(0.05) },
    { kind: 'cut-after', methods: ['chat.postMessage', 'files.completeUploadExternal'], ...often(0.15) },
    { kind: 'cut-after', methods: SHOWING, ...often(0.06) },
    { kind: 'rate-limit', methods: READING, ...often(0.04), retryAfter: 1 },
    { kind: 'server-error', methods: READING, ...often(0.04) },
    { kind: 'cut-before', methods: READING, ...often(0.04) },
    { kind: 'expire-triggers', ...often(0.1) },
    { kind: 'expire-response-urls', ...often(0.1) },
  ];
}

/*
 * Now and then Slack cannot reach the bot for so long that it gives its events up for good. What was written
 * meanwhile stands in the threads alone, for the next life to read there.
 */

export const CUT_OFF: Rule[] = [{ kind: 'lose-delivery', chance: 1 }];

/** While the table is open, as a share of the run. */
const FROM = 0.42;
const TO = 0.68;
const ONE_IN = 12;
const WRITTEN = 4;
const WRITTEN_WITHIN_MS = 6_000;
/** Slack tries again at once, after a minute and after five more; then it gives an event up. */
const RETRIES_MS = [61_000, 301_000] as const;
const TRIED_MS = 150;

/** Lives that pass cut off: at least one, and one in twelve of a longer run. */
export function isCutOff(seed: number, phase: number, kills: number): boolean {
  const dice = throwDice(seed, 'outages');
  for (let left = Math.max(1, Math.round(kills / ONE_IN)); left > 0; left -= 1)
    if (dice.between(Math.ceil(FROM * kills), Math.floor(TO * kills)) === phase) return true;
  return false;
}

/** Lets people write and change their minds, and time pass until Slack has given up. */
export async function cutOff(world: World): Promise<string> {
  const before = world.expected.notes.size;
  await happens(() => world.expected.notes.size >= before + WRITTEN, WRITTEN_WITHIN_MS);
  await world.quietly(async () => {
    await sleep(TRIED_MS);
    for (const advance of RETRIES_MS) {
      await world.client.clock({ advance });
      await sleep(TRIED_MS);
    }
  });
  return 'after Slack could not reach it';
}

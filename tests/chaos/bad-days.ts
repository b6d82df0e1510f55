import type { z } from 'zod';
import type { FaultsRequest } from '../../src/local/faults.js';
import type { Dice } from './dice.js';

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

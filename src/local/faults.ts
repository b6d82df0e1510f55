/**
 * Slack's bad days, on demand. `POST /local/faults` replaces the rules in force, `DELETE` lifts them and
 * `GET` tells how often each has struck.
 *
 * Every rule may say `chance` (0 to 1, drawn from the seed and the rule's place in the list, so that a run
 * repeats), `skip` (let that many matches pass first) and `times` (strike no more often than that).
 *
 * To the bot; `only` names events by subtype or type (`message`, `message_changed`, `app_mention` …),
 * `command`, or payload types (`block_actions`, `view_submission` …):
 * - `deliver-twice` the same event again after `delayMs`, same event id, no retry headers
 * - `deliver-late` an event `delayMs` late, on the workspace's clock
 * - `deliver-out-of-order` an event held until a later one was delivered, at most `holdMs` (2,000)
 * - `lose-delivery` nothing arrives: connection_failed, then Slack's retries
 * - `drop-ack` the bot's answer is lost: after `delayMs` (0) it counts as a time-out
 * - `slow-ack` the bot's answer takes `delayMs` longer; past three seconds it counts as a time-out
 *
 * From the bot; `methods` names Web API methods, or `response_url`:
 * - `rate-limit` 429 with Retry-After: `retryAfter` seconds, nothing done
 * - `server-error` HTTP `status` (503), nothing done
 * - `time-out` no answer for `holdMs` (60,000), then a cut; with `done: true` the work is done first
 * - `cut-before` the connection breaks, nothing done; `cut-after` it breaks once Slack has done the work
 * - `refuse` answers `ok: false` with `error`
 *
 * `expire-triggers` hands out trigger ids that are too old already, `expire-response-urls` response URLs
 * likewise. Archived channels, a removed bot and deleted people are states rather than chances: set them
 * with `POST /local/channels/ID {"archived":true}` or `{"removeMember":BOT}` and `POST /local/people/ID
 * {"deleted":true}`.
 */
import { z } from 'zod';
import { seededRandom } from './random.js';

const often = {
  chance: z.number().min(0).max(1).optional(),
  skip: z.number().int().nonnegative().optional(),
  times: z.number().int().positive().optional(),
};
const toBot = { ...often, only: z.array(z.string()).min(1).optional() };
const fromBot = { ...often, methods: z.array(z.string()).min(1).optional() };
const Ms = z.number().int().nonnegative().max(600_000);

const Rule = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('deliver-twice'), ...toBot, delayMs: Ms.optional() }),
  z.strictObject({ kind: z.literal('deliver-late'), ...toBot, delayMs: Ms }),
  z.strictObject({ kind: z.literal('deliver-out-of-order'), ...toBot, holdMs: Ms.optional() }),
  z.strictObject({ kind: z.literal('lose-delivery'), ...toBot }),
  z.strictObject({ kind: z.literal('drop-ack'), ...toBot, delayMs: Ms.optional() }),
  z.strictObject({ kind: z.literal('slow-ack'), ...toBot, delayMs: Ms }),
  z.strictObject({ kind: z.literal('rate-limit'), ...fromBot, retryAfter: z.number().int().min(0).max(600) }),
  z.strictObject({
    kind: z.literal('server-error'),
    ...fromBot,
    status: z.number().int().min(500).max(599).optional(),
  }),
  z.strictObject({
    kind: z.literal('time-out'),
    ...fromBot,
    holdMs: Ms.optional(),
    done: z.boolean().optional(),
  }),
  z.strictObject({ kind: z.literal('cut-before'), ...fromBot }),
  z.strictObject({ kind: z.literal('cut-after'), ...fromBot }),
  z.strictObject({ kind: z.literal('refuse'), ...fromBot, error: z.string().min(1) }),
  z.strictObject({ kind: z.literal('expire-triggers'), ...often }),
  z.strictObject({ kind: z.literal('expire-response-urls'), ...often }),
]);
type Rule = z.infer<typeof Rule>;
type Kind = Rule['kind'];

export const FaultsRequest = z.strictObject({
  seed: z.number().int().nonnegative().optional(),
  rules: z.array(Rule).max(100),
});

type Armed = { readonly rule: Rule; readonly random: () => number; seen: number; struck: number };

/** The rules in force. */
export type Faults = {
  readonly arm: (request: z.infer<typeof FaultsRequest>) => void;
  readonly clear: () => void;
  readonly list: () => readonly { readonly rule: Rule; readonly struck: number }[];
  /** The rule of this kind that strikes now, counted as struck; `name` is the event or method. */
  readonly strike: <K extends Kind>(kind: K, name: string) => Extract<Rule, { kind: K }> | undefined;
};

export function noFaults(): Faults {
  let armed: readonly Armed[] = [];
  return {
    arm: ({ seed = 0, rules }) => {
      armed = rules.map((rule, index) => ({
        rule,
        random: seededRandom(seed * 101 + index),
        seen: 0,
        struck: 0,
      }));
    },
    clear: () => {
      armed = [];
    },
    list: () => armed.map(({ rule, struck }) => ({ rule, struck })),
    strike: (kind, name) => {
      for (const one of armed) {
        if (isOf(one.rule, kind) && concerns(one.rule, name) && strikes(one)) return one.rule;
      }
      return undefined;
    },
  };
}

function isOf<K extends Kind>(rule: Rule, kind: K): rule is Extract<Rule, { kind: K }> {
  return rule.kind === kind;
}

function concerns(rule: Rule, name: string): boolean {
  const names = 'only' in rule ? rule.only : 'methods' in rule ? rule.methods : undefined;
  return names === undefined || names.includes(name);
}

function strikes(one: Armed): boolean {
  one.seen += 1;
  if (one.seen <= (one.rule.skip ?? 0) || one.struck >= (one.rule.times ?? Number.POSITIVE_INFINITY))
    return false;
  if (one.random() >= (one.rule.chance ?? 1)) return false;
  one.struck += 1;
  return true;
}

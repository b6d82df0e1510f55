import { type Ask, type AskState, LIVE_ASKS, wantedMg } from '../record/ask.js';
import type { LocalDay } from '../when/local-day.js';
import type { AskCharge } from './charge.js';

/** The part of a roast ask that changes. Who and when are kept by whoever stores the change. */
export type ChangingAsk = Omit<Ask, 'id' | 'coffeeId' | 'roaster'>;

/** What can be done to an ask. */
export type AskChange =
  /** `lapse`: nobody answered before its day. `struck`: the roast on record for it was an error. */
  | { readonly kind: 'accept' | 'decline' | 'agree' | 'withdraw' | 'lapse' | 'missed' | 'struck' }
  | { readonly kind: 'offer'; readonly day: LocalDay }
  | {
      readonly kind: 'replan';
      readonly day: LocalDay;
      readonly favour: boolean;
      readonly reason: string;
    }
  /** Who wants how much of it changed; `charge` is asked only when the charge on the plan no longer serves. */
  | {
      readonly kind: 'wishes';
      readonly wanted: Ask['wanted'];
      readonly free: Ask['free'];
      readonly charge: (wantedMg: number) => AskCharge;
    }
  | { readonly kind: 'roasted'; readonly on: LocalDay; readonly roastId: number };

/** The ask after a change; `changed` is false when the change was already made (a second tap). */
export type ChangedAsk<A> =
  | { readonly ok: true; readonly ask: A; readonly changed: boolean }
  | { readonly ok: false; readonly message: string };

/** From which states a change is possible and to which it leads; wishes lead where `withWishes` says. */
const ALLOWED: ReadonlyMap<AskChange['kind'], { readonly from: readonly AskState[]; readonly to: AskState }> =
  new Map([
    ['accept', { from: ['asked', 'offered'], to: 'accepted' }],
    ['offer', { from: ['asked', 'offered'], to: 'offered' }],
    ['decline', { from: LIVE_ASKS, to: 'declined' }],
    ['agree', { from: ['offered'], to: 'accepted' }],
    ['withdraw', { from: LIVE_ASKS, to: 'withdrawn' }],
    ['lapse', { from: ['asked', 'offered'], to: 'withdrawn' }],
    ['replan', { from: [...LIVE_ASKS, 'missed'], to: 'asked' }],
    ['wishes', { from: LIVE_ASKS, to: 'asked' }],
    ['roasted', { from: [...LIVE_ASKS, 'missed'], to: 'roasted' }],
    ['struck', { from: ['roasted'], to: 'accepted' }],
    ['missed', { from: ['accepted'], to: 'missed' }],
  ]);

/**
 * The ask after a change, or a kind sentence why not: asked → accepted | offered | declined; offered →
 * accepted | withdrawn; accepted → roasted | missed. A coffee that was roasted counts as roasted even when
 * nobody tapped before. A missed or moved ask can be asked again for another day; one whose roast is struck
 * is on the plan again.
 */
export function changeAsk<A extends ChangingAsk>(ask: A, change: AskChange): ChangedAsk<A> {
  if (alreadyDone(ask, change)) return { ok: true, ask, changed: false };
  const rule = ALLOWED.get(change.kind);
  if (!rule?.from.includes(ask.state)) return { ok: false, message: tooLate(ask) };
  return { ok: true, ask: { ...ask, state: rule.to, ...whatChanges(ask, change) }, changed: true };
}

function whatChanges(ask: ChangingAsk, change: AskChange): Partial<ChangingAsk> {
  switch (change.kind) {
    case 'offer':
      return { offeredDay: change.day };
    case 'agree':
      return { roastDay: ask.offeredDay ?? ask.roastDay, offeredDay: null, reason: '' };
    case 'replan':
      return { roastDay: change.day, offeredDay: null, favour: change.favour, reason: change.reason };
    case 'wishes':
      return withWishes(ask, change);
    case 'roasted':
      return { roastDay: change.on, offeredDay: null, roastId: change.roastId };
    case 'struck':
      return { roastId: null };
    default:
      return { offeredDay: null };
  }
}

/**
 * Nobody wants it any more, and it is withdrawn; the charge on the roaster's plan still serves, and only what
 * is over changes; or the charge is worked out anew, and a roaster who had accepted another weight is asked
 * again.
 */
function withWishes(
  ask: ChangingAsk,
  { wanted, free, charge }: Extract<AskChange, { readonly kind: 'wishes' }>,
): Partial<ChangingAsk> {
  const total = wantedMg({ wanted, free });
  if (total === 0) return { wanted, free, state: 'withdrawn', offeredDay: null };
  if (ask.state === 'accepted' && total <= ask.roastedMg) {
    return { wanted, free, state: 'accepted', overMg: ask.roastedMg - total };
  }
  const { greenMg, roastedMg, overMg, lossBp, drum } = charge(total);
  const state = ask.state === 'accepted' ? 'asked' : ask.state;
  return { wanted, free, state, greenMg, roastedMg, overMg, lossBp, drum };
}

function alreadyDone(ask: ChangingAsk, change: AskChange): boolean {
  switch (change.kind) {
    case 'offer':
      return ask.state === 'offered' && ask.offeredDay === change.day;
    case 'replan':
      return (
        ask.state === 'asked' &&
        ask.roastDay === change.day &&
        ask.favour === change.favour &&
        ask.reason === change.reason
      );
    case 'roasted':
    case 'wishes':
      return false;
    default:
      return ALLOWED.get(change.kind)?.to === ask.state;
  }
}

function tooLate(ask: ChangingAsk): string {
  const now = new Map<AskState, string>([
    ['asked', 'This roast is asked for and not answered yet.'],
    ['accepted', 'This roast is already on the plan.'],
    ['offered', 'Another day is on offer; the host has to answer first.'],
    ['declined', 'This roast was declined. Ask again for another day.'],
    ['roasted', 'This coffee is roasted already.'],
    ['missed', 'That roast day passed. Ask again for another day.'],
    ['withdrawn', 'The host no longer needs this roast. Thank you!'],
  ]);
  return now.get(ask.state) ?? 'That is no longer possible.';
}

/** A new ask for a charge, nobody's answer yet. `id` is below nothing until it is stored. */
export function newAsk(
  asked: Pick<Ask, 'id' | 'coffeeId' | 'roaster' | 'favour' | 'reason'> & {
    readonly day: LocalDay;
    readonly wanted?: Ask['wanted'];
    readonly free?: Ask['free'];
  },
  { greenMg, roastedMg, overMg, lossBp, drum }: AskCharge,
): Ask {
  const { id, coffeeId, roaster, favour, reason, day, wanted = [], free = [] } = asked;
  return {
    ...{ id, coffeeId, roaster, favour, reason, greenMg, roastedMg, overMg, lossBp, drum, wanted, free },
    ...{ roastDay: day, offeredDay: null, state: 'asked', roastId: null },
  };
}

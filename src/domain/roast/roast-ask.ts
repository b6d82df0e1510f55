import type { Ask, AskState } from '../record/ask.js';
import type { Level } from '../record/coffee.js';
import type { LocalDay } from '../when/local-day.js';

/** The part of a roast ask that answers change. Who and when are kept by whoever stores the change. */
export type AnsweredAsk = Pick<Ask, 'state' | 'roastDay' | 'offeredDay'>;

/** What really came out of the drum. Weights in milligrams, 0 < roasted < green. */
export type RoastOutcome = {
  readonly greenInMg: number;
  readonly roastedOutMg: number;
  readonly roastedOn: LocalDay;
  readonly level: Level | null;
  readonly colour: number | null;
  readonly remarks: string | null;
};

/** What can be done to an ask. */
export type AskChange =
  | { readonly kind: 'accept' }
  | { readonly kind: 'offer'; readonly day: LocalDay }
  | { readonly kind: 'decline'; readonly because: string | null }
  | { readonly kind: 'agree' }
  | { readonly kind: 'withdraw' }
  | { readonly kind: 'replan'; readonly day: LocalDay }
  | { readonly kind: 'roasted'; readonly outcome: RoastOutcome }
  | { readonly kind: 'missed' };

/** The ask after a change; `changed` is false when the change was already made (a second tap). */
export type ChangedAsk =
  | { readonly ok: true; readonly ask: AnsweredAsk; readonly changed: boolean }
  | { readonly ok: false; readonly message: string };

const ALLOWED: ReadonlyMap<AskChange['kind'], { readonly from: readonly AskState[]; readonly to: AskState }> =
  new Map([
    ['accept', { from: ['asked', 'offered'], to: 'accepted' }],
    ['offer', { from: ['asked', 'offered'], to: 'offered' }],
    ['decline', { from: ['asked', 'offered', 'accepted'], to: 'declined' }],
    ['agree', { from: ['offered'], to: 'accepted' }],
    ['withdraw', { from: ['asked', 'offered', 'accepted'], to: 'withdrawn' }],
    ['replan', { from: ['asked', 'offered', 'accepted', 'missed'], to: 'asked' }],
    ['roasted', { from: ['asked', 'offered', 'accepted', 'missed'], to: 'roasted' }],
    ['missed', { from: ['accepted'], to: 'missed' }],
  ]);

/**
 * The ask after a change, or a kind sentence why not: asked → accepted | offered | declined; offered →
 * accepted | withdrawn; accepted → roasted | missed. A coffee that was roasted counts as roasted even when
 * nobody tapped before. A missed or moved ask can be asked again for another day.
 */
export function changeAsk(ask: AnsweredAsk, change: AskChange): ChangedAsk {
  const rule = ALLOWED.get(change.kind);
  if (alreadyDone(ask, change)) return { ok: true, ask, changed: false };
  if (!rule?.from.includes(ask.state)) return { ok: false, message: tooLate(ask) };
  const problem = change.kind === 'roasted' ? outcomeProblem(change.outcome) : null;
  if (problem) return { ok: false, message: problem };
  return {
    ok: true,
    ask: { state: rule.to, roastDay: ask.roastDay, offeredDay: ask.offeredDay, ...whatChanges(ask, change) },
    changed: true,
  };
}

function whatChanges(ask: AnsweredAsk, change: AskChange): Partial<AnsweredAsk> {
  if (change.kind === 'offer') return { offeredDay: change.day };
  if (change.kind === 'agree') return { roastDay: ask.offeredDay ?? ask.roastDay, offeredDay: null };
  if (change.kind === 'replan') return { roastDay: change.day, offeredDay: null };
  if (change.kind === 'decline' || change.kind === 'accept') return { offeredDay: null };
  if (change.kind === 'roasted') return { roastDay: change.outcome.roastedOn, offeredDay: null };
  return {};
}

function alreadyDone(ask: AnsweredAsk, change: AskChange): boolean {
  if (change.kind === 'offer') return ask.state === 'offered' && ask.offeredDay === change.day;
  if (change.kind === 'replan') return ask.state === 'asked' && ask.roastDay === change.day;
  if (change.kind === 'roasted') return false;
  return ALLOWED.get(change.kind)?.to === ask.state;
}

/** Mass balance: a roast takes weight away, and never more than half of it. */
function outcomeProblem(outcome: RoastOutcome): string | null {
  if (outcome.roastedOutMg >= outcome.greenInMg) {
    return 'Roasted coffee weighs less than the green did. Are the two weights swapped?';
  }
  if (outcome.roastedOutMg * 2 < outcome.greenInMg) {
    return 'That is less than half of the green. Please look at both weights again.';
  }
  return outcome.roastedOutMg > 0 ? null : 'How much came out? Give the roasted weight, like 350 g.';
}

function tooLate(ask: AnsweredAsk): string {
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

import { greenOfGroup, plannedLossBp } from '../../domain/production/roast-groups.js';
import type { Ask } from '../../domain/record/ask.js';
import type { Coffee, Level } from '../../domain/record/coffee.js';
import {
  type CheckedRoast,
  checkRoast,
  type RoastHistory,
  type RoastReport,
} from '../../domain/roast/check-roast.js';
import {
  countingRoasts,
  estimateLoss,
  type LossEstimate,
  lossBp,
  type RoastRecord,
  roastsIn,
} from '../../domain/roast/loss.js';
import { changeAsk } from '../../domain/roast/roast-ask.js';
import { daysAfter, type LocalDay, localDay } from '../../domain/when/local-day.js';
import { UserError } from '../../runtime/errors.js';
import { findAskOfRoast } from '../../store/asks.js';
import { coffeesById, updateCoffee } from '../../store/coffees.js';
import type { Db } from '../../store/db.js';
import { findRecipe } from '../../store/recipes.js';
import { insertRoast, listRoastsAlone, type Roast, strikeRoast } from '../../store/roasts.js';
import { findLotOfRoast, insertLot, setLotLeft, setLotRoast } from '../../store/shelf.js';
import { defaultGroupLossBp, loadGroupRoasts } from './load-plan.js';
import { type AskContext, replanShelf, requireRoaster, storeAskChange, storeAsks } from './plan-roasts.js';

/** What was roasted: one coffee alone, or a recipe's coffees that are joined green, with their roasted shares. */
export type RoastSubject =
  | { readonly kind: 'coffee'; readonly coffee: Coffee }
  | {
      readonly kind: 'group';
      readonly recipeId: number;
      readonly group: string;
      readonly members: readonly { readonly coffeeId: number; readonly mg: number }[];
    };

/** A roast as somebody reports it. */
export type ReportedRoast = RoastReport & {
  readonly subject: RoastSubject;
  /** Best-by of the lot on the shelf; null for the house's usual days. */
  readonly bestBy?: LocalDay | null;
  readonly level?: Level | null;
  readonly colour?: number | null;
  readonly remarks?: string | null;
  /** The ask it was roasted for. */
  readonly ask?: Ask | null;
  /** The roast on record that this one corrects. */
  readonly replaces?: Roast | null;
};

/** A roast on record with what it teaches, or why it is not one yet. `roastId` is null without green. */
export type RecordedRoast =
  | Exclude<CheckedRoast, { readonly kind: 'counts' }>
  | {
      readonly kind: 'recorded';
      readonly roastId: number | null;
      readonly drum: string | null;
      readonly lossBp: number | null;
      /** The loss to reckon with in this drum from now on. */
      readonly estimate: LossEstimate;
    };

/**
 * The one door for a roast, however it comes in. What cannot be is refused, what looks like a slip is asked
 * about; else the mass balance is kept: green leaves the store, and what was roasted alone stands on the
 * shelf. Its ask is done, and the roasts of all tables are planned anew. Call it in a transaction.
 */
export async function recordRoast(
  trx: Db,
  context: AskContext,
  report: ReportedRoast,
): Promise<RecordedRoast> {
  const { workspace, who, now: at } = context;
  const { subject, greenMg, roastedMg, roastedOn, replaces = null } = report;
  const history = await historyOf(trx, context, subject, replaces);
  const checked = checkRoast(report, history);
  if (checked.kind !== 'counts') return checked;
  const { drum, confirmed } = checked;
  const ask = report.ask ?? (replaces && (await findAskOfRoast(trx, workspace, replaces.id)));
  if (replaces) await takeBack(trx, context, replaces, ask);
  const first = subject.kind === 'coffee' ? subject.coffee.id : (subject.members[0]?.coffeeId ?? 0);
  let roastId: number | null = null;
  if (greenMg !== null) {
    roastId = await insertRoast(trx, {
      ...{ workspace, who, at, coffeeId: first, greenMg, roastedMg, roastedOn, drum, confirmed },
      recipeId: subject.kind === 'group' ? subject.recipeId : null,
      roastGroup: subject.kind === 'group' ? subject.group : null,
      ...{ level: report.level ?? null, colour: report.colour ?? null, remarks: report.remarks ?? null },
      taken: await takeGreen(trx, context, subject, greenMg),
    });
  }
  if (subject.kind === 'coffee') await shelveRoast(trx, context, first, report, roastId);
  if (ask && roastId !== null) await finishAsk(trx, context, ask, roastedOn, roastId, replaces !== null);
  await replanShelf(trx, context);
  const own: RoastRecord | null = greenMg === null ? null : { greenMg, roastedMg, drum, confirmed };
  const inDrum = roastsIn([...history.roasts, ...(own ? [own] : [])], [drum], history.drums);
  return {
    ...{ kind: 'recorded', roastId, drum },
    lossBp: greenMg === null ? null : lossBp(greenMg, roastedMg),
    estimate: estimateLoss(countingRoasts(inDrum, history.defaultBp), history.defaultBp),
  };
}

/**
 * Strikes a roast that was an error: it counts no more, its green is back in the store, what is left of it
 * leaves the shelf, and its ask is on the plan again, or missed when its day has passed.
 */
export async function takeBackRoast(trx: Db, context: AskContext, roast: Roast): Promise<void> {
  const ask = await findAskOfRoast(trx, context.workspace, roast.id);
  const lot = await findLotOfRoast(trx, context.workspace, roast.id);
  await takeBack(trx, context, roast, ask);
  if (lot) await setLotLeft(trx, context.workspace, lot.id, 0, context.now);
  if (ask) {
    const struck = changeAsk(ask, { kind: 'struck' });
    if (!struck.ok) throw new UserError(struck.message);
    const after = struck.ask;
    await storeAsks(trx, context, [{ before: ask, after, said: [{ what: 'struck', day: ask.roastDay }] }]);
    if (ask.roastDay < localDay(context.now, context.house.timeZone))
      await storeAskChange(trx, context, after, { kind: 'missed' });
  }
  await replanShelf(trx, context);
}

/** What a roast on record was of. Its group may be put together otherwise by now: then its coffee stands for it. */
export async function loadSubject(
  db: Db,
  workspace: string,
  { recipeId, roastGroup: group }: Roast,
  coffee: Coffee,
): Promise<RoastSubject> {
  if (recipeId === null || group === null) return { kind: 'coffee', coffee };
  const parts = (await findRecipe(db, workspace, recipeId))?.parts ?? [];
  const members = parts.flatMap((part) =>
    part.roastGroup === group ? [{ coffeeId: part.coffeeId, mg: part.parts * 1000 }] : [],
  );
  const alone = [{ coffeeId: coffee.id, mg: 1000 }];
  return { kind: 'group', recipeId, group, members: members.length > 0 ? members : alone };
}

/** Earlier roasts of the same, oldest first, without the one that is corrected. */
async function historyOf(
  db: Db,
  { workspace, house, now }: AskContext,
  subject: RoastSubject,
  replaced: Roast | null,
): Promise<RoastHistory> {
  const common = { drums: house.drums, today: localDay(now, house.timeZone) };
  const others = <R extends { readonly id: number }>(roasts: readonly R[]) =>
    roasts.filter((roast) => roast.id !== replaced?.id);
  if (subject.kind === 'coffee') {
    const roasts = others(await listRoastsAlone(db, workspace, subject.coffee.id));
    return { ...common, roasts, defaultBp: plannedLossBp(subject.coffee, house) };
  }
  const recipe = await findRecipe(db, workspace, subject.recipeId);
  if (!recipe) throw new UserError('That blend is gone.', 'See `/spoon recipe`.');
  const ids = recipe.parts.map((part) => part.coffeeId);
  const coffees = await coffeesById(db, workspace, ids);
  const roasts = others((await loadGroupRoasts(db, workspace, recipe)).get(subject.group) ?? []);
  return { ...common, roasts, defaultBp: defaultGroupLossBp(recipe, subject.group, coffees, house) };
}

/** Takes the green of a charge from the store, coffee by coffee, never more than is counted there. */
async function takeGreen(
  trx: Db,
  { workspace, house }: AskContext,
  subject: RoastSubject,
  greenMg: number,
): Promise<Roast['taken']> {
  const members =
    subject.kind === 'coffee' ? [{ coffeeId: subject.coffee.id, mg: greenMg }] : subject.members;
  const ids = members.map((member) => member.coffeeId);
  const coffees = await coffeesById(trx, workspace, ids);
  const losses = ids.map((id) => {
    const coffee = coffees.get(id);
    return coffee ? plannedLossBp(coffee, house) : 0;
  });
  const weights = members.map((member) => member.mg);
  const used = greenOfGroup(greenMg, weights, losses, 1);
  const taken: { coffeeId: number; mg: number }[] = [];
  for (const [index, id] of ids.entries()) {
    const coffee = coffees.get(id);
    if (!coffee || coffee.greenMg === null) continue;
    const mg = Math.min(coffee.greenMg, used[index] ?? 0);
    taken.push({ coffeeId: id, mg });
    await updateCoffee(trx, workspace, { ...coffee, greenMg: coffee.greenMg - mg });
  }
  return taken;
}

/** A roast counts no more, and its green is back in the store. One for an ask is its roaster's to take back. */
async function takeBack(trx: Db, context: AskContext, roast: Roast, ask: Ask | null): Promise<void> {
  const { workspace, now } = context;
  if (ask) requireRoaster(context, ask);
  const ids = roast.taken.map((entry) => entry.coffeeId);
  const coffees = await coffeesById(trx, workspace, ids);
  for (const { coffeeId, mg } of roast.taken) {
    const coffee = coffees.get(coffeeId);
    if (!coffee || coffee.greenMg === null) continue;
    await updateCoffee(trx, workspace, { ...coffee, greenMg: coffee.greenMg + mg });
  }
  await strikeRoast(trx, roast.id, now);
}

/** A new lot; or the lot of the roast that is corrected, whose used grams stay used and whose tables keep theirs. */
async function shelveRoast(
  trx: Db,
  { workspace, who, now: at, house }: AskContext,
  coffeeId: number,
  { roastedMg, roastedOn, replaces, bestBy: given }: ReportedRoast,
  roastId: number | null,
): Promise<void> {
  const bestBy = given ?? daysAfter(roastedOn, house.bestByDays);
  const lot = replaces ? await findLotOfRoast(trx, workspace, replaces.id) : null;
  if (replaces && lot) {
    const leftMg = Math.max(0, lot.mg + roastedMg - replaces.roastedMg);
    await setLotLeft(trx, workspace, lot.id, leftMg, at);
    await setLotRoast(trx, lot.id, { roastId, roastedOn, bestBy });
  } else {
    await insertLot(trx, { workspace, who, at, coffeeId, mg: roastedMg, roastedOn, bestBy, roastId });
  }
}

/** The ask behind a roast is done; one whose roast is corrected takes the new one. */
async function finishAsk(
  trx: Db,
  context: AskContext,
  ask: Ask,
  on: LocalDay,
  roastId: number,
  corrected: boolean,
): Promise<void> {
  const open = corrected ? changeAsk(ask, { kind: 'struck' }) : { ok: true as const, ask };
  const done = open.ok ? changeAsk(open.ask, { kind: 'roasted', on, roastId }) : open;
  if (!done.ok) throw new UserError(done.message, null, 'roasted');
  const said = [...(corrected ? [{ what: 'struck' }] : []), { what: 'roasted', day: on }];
  await storeAsks(trx, context, [{ before: ask, after: done.ask, said }]);
}

import { z } from 'zod';
import type { HouseFacts } from '../../domain/house/house-facts.js';
import { parseMoney } from '../../domain/measure/hundredths.js';
import { plainList } from '../../domain/measure/plain-list.js';
import { type ProductionPlan, productionNote } from '../../domain/production/production-note.js';
import type { MeasuredLosses } from '../../domain/production/roast-groups.js';
import { type Candidate, whenRunsOut } from '../../domain/production/stand-in.js';
import type { Coffee } from '../../domain/record/coffee.js';
import { cupRatio, type TableSetting } from '../../domain/record/table-setting.js';
import { tastingName, USUAL_BATCH_MG } from '../../domain/record/tasting.js';
import { productionPlan, winnerOf } from '../../domain/result/table-result.js';
import {
  countingRoasts,
  estimateLoss,
  type LossEstimate,
  productionRoasts,
} from '../../domain/roast/loss.js';
import { freeOf } from '../../domain/roast/shelf.js';
import { UserError } from '../../runtime/errors.js';
import { listCoffees } from '../../store/coffees.js';
import { coffeeProfiles } from '../../store/cups.js';
import type { Db } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import { listLots, listReservations } from '../../store/shelf.js';
import type { Answer, Deps, SubmitAnswer } from '../common/bot.js';
import {
  OfTasting,
  readValue,
  type Submission,
  type Tap,
  tastingOf,
  type Who,
  written,
} from '../common/intake.js';
import { requireTableAt } from '../common/load-table.js';
import { defaultGroupLossBp, loadGroupRoasts, loadProductionLoss } from '../planning/load-plan.js';
import { marginForm, marginMessage, runOutView } from './production-forms.js';

/** A decided table with a winner, and the plan of its production note. */
type Decided = {
  readonly house: HouseFacts;
  readonly plan: ProductionPlan;
  /** "Harbour Lamp 2:1:1". */
  readonly blend: string;
};

/** @throws {UserError} when the tasting is gone, has no winner yet, or is not for somebody who asks here */
export async function requireDecided(
  db: Db,
  who: Who,
  channel: string | null,
  tastingId: number,
): Promise<Decided> {
  const { workspace } = who;
  const setting = await requireTableAt(db, who, channel, tastingId);
  const { tasting, recipe } = setting;
  const winner = winnerOf(setting);
  const plan = tasting.state === 'decided' ? await productionOf(db, workspace, setting) : null;
  if (!winner || !plan)
    throw new UserError(
      `${tastingName(tasting)} has no winner yet.`,
      `Decide it first: \`/spoon digest ${tastingName(tasting)}\``,
    );
  return { house: await loadHouse(db, workspace), plan, blend: `${recipe.name} ${cupRatio(winner, recipe)}` };
}

/** The plan of a decided table's production note, as the house's own roasts are known now; null without a winner. */
export async function productionOf(
  db: Db,
  workspace: string,
  setting: TableSetting,
): Promise<ProductionPlan | null> {
  const winner = winnerOf(setting);
  if (!winner) return null;
  const measured = await measuredLosses(db, workspace, setting);
  return productionPlan(winner, setting, setting.tasting.batchMg ?? USUAL_BATCH_MG, measured);
}

/** The production note of a decided table as it would be written now. */
export function noteOf({ plan, house }: Decided) {
  return productionNote(plan, house);
}

/** What the house's own roasts of a recipe's coffees and roast groups have shown in its production drums. */
async function measuredLosses(
  db: Db,
  workspace: string,
  { recipe, coffees }: TableSetting,
): Promise<MeasuredLosses> {
  const house = await loadHouse(db, workspace);
  const alone = new Map<number, LossEstimate>();
  for (const coffee of coffees.values()) {
    const estimate = await loadProductionLoss(db, workspace, coffee, house);
    if (estimate.batches > 0) alone.set(coffee.id, estimate);
  }
  const groups = new Map<string, LossEstimate>();
  for (const [group, all] of await loadGroupRoasts(db, workspace, recipe)) {
    const fallback = defaultGroupLossBp(recipe, group, coffees, house);
    const roasts = countingRoasts(productionRoasts(all, house.drums), fallback);
    if (roasts.length > 0) groups.set(group, estimateLoss(roasts, fallback));
  }
  return { coffees: alone, groups };
}

/** A submission does not say where its form was opened, so the form does. */
const MarginState = OfTasting.extend({ channel: z.string().nullish() });

export async function marginTap(deps: Deps, tap: Tap): Promise<Answer> {
  const tasting = tastingOf(tap);
  const { bag, priceCents } = await bagOf(deps, tap, tasting);
  return { form: marginForm(bag, priceCents, { tasting, channel: tap.channel }) };
}

export async function marginSubmitted(deps: Deps, { who, form }: Submission): Promise<SubmitAnswer> {
  const { tasting, channel } = readValue(MarginState, form.privateMetadata);
  const cents = parseMoney(written(form, 'price'));
  if (cents === null || cents <= 0) return { errors: { price: 'Give a price like 9.50.' } };
  const { bag } = await bagOf(deps, { who, channel: channel ?? null }, tasting);
  return { message: marginMessage(bag, cents) };
}

async function bagOf(deps: Deps, { who, channel }: Pick<Tap, 'who' | 'channel'>, tastingId: number) {
  const decided = await requireDecided(deps.db, who, channel, tastingId);
  const { cost } = noteOf(decided);
  if (!cost.ok)
    throw new UserError(
      `The cost is not known yet: the green price of ${plainList(cost.priceMissing)} is missing.`,
      'Give it with `/spoon shelf`.',
    );
  const { bagMg, unitSystem: units, currency } = decided.house;
  return {
    bag: { blend: decided.blend, bagMg, units, currency, costCents: cost.cost.perBagCents },
    priceCents: cost.cost.pricePerBagCents,
  };
}

const NO_PROFILE: ReadonlyMap<string, number> = new Map();

/** For each coffee of the winning ratio: which is nearest to it, what to taste first, what it would cost. */
export async function runsOutTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { workspace } = tap.who;
  const { plan, house, blend } = await requireDecided(deps.db, tap.who, tap.channel, tastingOf(tap));
  const profiles = await coffeeProfiles(deps.db, workspace);
  const standIns = await coffeesAtHand(deps.db, workspace, profiles, plan.finishedMg);
  const runOuts = plan.parts.flatMap(({ coffeeId }) => {
    const profile = profiles.get(coffeeId) ?? NO_PROFILE;
    return whenRunsOut(plan, coffeeId, profile, standIns, house) ?? [];
  });
  return { form: runOutView(blend, runOuts) };
}

/** Every coffee with what is free of it, roasted and green; green that the house does not count is taken to be there. */
async function coffeesAtHand(
  db: Db,
  workspace: string,
  profiles: ReadonlyMap<number, ReadonlyMap<string, number>>,
  uncountedMg: number,
): Promise<readonly Candidate<Coffee>[]> {
  const lots = await listLots(db, workspace);
  const held = await listReservations(db, workspace);
  return (await listCoffees(db, workspace)).map((coffee) => {
    const own = lots.filter((lot) => lot.coffeeId === coffee.id);
    const freeMg = own.reduce((sum, lot) => sum + freeOf(lot, held), 0);
    const availableMg = freeMg + (coffee.greenMg ?? uncountedMg);
    return { coffee, profile: profiles.get(coffee.id) ?? NO_PROFILE, availableMg };
  });
}

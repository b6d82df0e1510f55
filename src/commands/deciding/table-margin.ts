import { z } from 'zod';
import { parseMoney } from '../../domain/measure/money.js';
import { plainList } from '../../domain/measure/plain-list.js';
import { KindRefusal } from '../../runtime/errors.js';
import type { Answer, SubmitAnswer } from '../common/answer.js';
import type { Deps } from '../common/deps.js';
import { written } from '../common/form-values.js';
import type { Submission, Tap } from '../common/intake.js';
import { Id, readValue } from '../common/values.js';
import { marginForm, marginMessage } from './production-forms.js';
import { noteOf, requireDecided } from './table-decided.js';

const Value = z.object({ tasting: Id });
/** A submission does not say where its form was opened, so the form does. */
const State = Value.extend({ channel: z.string().nullish() });

export async function marginTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { tasting } = readValue(Value, tap.value);
  const { bag, priceCents } = await bagOf(deps, tap, tasting);
  return { form: marginForm(bag, priceCents, { tasting, channel: tap.channel }) };
}

export async function marginSubmitted(deps: Deps, { who, form }: Submission): Promise<SubmitAnswer> {
  const { tasting, channel } = readValue(State, form.privateMetadata);
  const cents = parseMoney(written(form, 'price'));
  if (cents === null || cents <= 0) return { errors: { price: 'Give a price like 9.50.' } };
  const { bag } = await bagOf(deps, { who, channel: channel ?? null }, tasting);
  return { message: marginMessage(bag, cents) };
}

async function bagOf(deps: Deps, { who, channel }: Pick<Tap, 'who' | 'channel'>, tastingId: number) {
  const decided = await requireDecided(deps.db, who, channel, tastingId);
  const { cost } = noteOf(decided);
  if (!cost.ok)
    throw new KindRefusal(
      'not now',
      `The cost is not known yet: the green price of ${plainList(cost.priceMissing)} is missing.`,
      'Give it with `/spoon shelf`.',
    );
  const { bagMg, unitSystem: units, currency } = decided.house;
  return {
    bag: { blend: decided.blend, bagMg, units, currency, costCents: cost.cost.perBagCents },
    priceCents: cost.cost.pricePerBagCents,
  };
}

import type { KnownBlock, ModalView } from '@slack/types';
import { parseWeightField } from '../../domain/measure/weight.js';
import { type CheckedRoast, type RoastReport, roastDayProblem } from '../../domain/roast/check-roast.js';
import { isLocalDay, type LocalDay, localDay } from '../../domain/when/local-day.js';
import { section } from '../../kit/blocks.js';
import { mrkdwn, plain } from '../../kit/escape.js';
import { checkInput, selectInput } from '../../kit/form.js';
import type { SubmitAnswer } from '../common/bot.js';
import { chosen, type FormState, written } from '../common/intake.js';
import type { AskContext } from './plan-roasts.js';

/* What every form shares in which a roast comes in: its fields are green, roasted, day, drum and sure. */

type RoastQuestion = Extract<CheckedRoast, { readonly kind: 'question' }>;

/** What a roast form starts from: what was typed before it came back with a question, or what is known. */
export type RoastStart = {
  readonly green: string;
  readonly roasted: string;
  readonly day: LocalDay;
  readonly asked: {
    readonly question: RoastQuestion;
    /** What was answered before: the drum that was chosen, and that both weights are right. */
    readonly drum: string | null;
    readonly sure: boolean;
  } | null;
};

/** The question with which a form came back: the sentence and its box, the drums to choose from. */
export function questionInputs(start: Pick<RoastStart, 'asked'> | null): readonly KnownBlock[] {
  if (!start?.asked) return [];
  const { question, drum, sure } = start.asked;
  const { odd, drums } = question;
  const right = [{ label: 'Both weights are right', value: 'yes' }];
  const ticked = { optional: true, initial: sure ? ['yes'] : [] };
  const choices = drums.map((name) => ({ label: plain(name), value: name }));
  return [
    ...(odd === null ? [] : [section(`:warning: ${mrkdwn(odd)}`)]),
    ...(odd !== null || sure ? [checkInput('sure', 'Is it so?', right, ticked)] : []),
    ...(choices.length > 0
      ? [selectInput('drum', 'Roasted in which drum?', choices, { initial: drum })]
      : []),
  ];
}

/** Reads a roast form; what does not fit is said beside its field. Without `green` it may stay empty. */
export function readRoastForm(
  form: FormState,
  { now, house }: Pick<AskContext, 'now' | 'house'>,
  needsGreen: boolean,
):
  | { readonly ok: true; readonly report: RoastReport }
  | { readonly ok: false; readonly errors: Readonly<Record<string, string>> } {
  const errors: Record<string, string> = {};
  const today = localDay(now, house.timeZone);
  const greenText = written(form, 'green');
  const green = greenText === '' && !needsGreen ? null : parseWeightField(greenText, house.unitSystem);
  const roasted = parseWeightField(written(form, 'roasted'), house.unitSystem);
  if (green && !green.ok) errors['green'] = green.message;
  if (!roasted.ok) errors['roasted'] = roasted.message;
  const roastedOn = written(form, 'day') || today;
  const problem = isLocalDay(roastedOn) ? roastDayProblem(roastedOn, today) : 'Pick the day of the roast.';
  if (problem !== null) errors['day'] = problem;
  if (!roasted.ok || Object.keys(errors).length > 0) return { ok: false, errors };
  const weights = { greenMg: green?.ok ? green.mg : null, roastedMg: roasted.mg };
  return { ok: true, report: { ...weights, roastedOn, ...answered(form) } };
}

/** What was answered to the question that the form came back with. */
function answered(form: FormState): { readonly drum: string | null; readonly sure: boolean } {
  return { drum: chosen(form, 'drum')[0] ?? null, sure: chosen(form, 'sure').includes('yes') };
}

/** The answer to a form whose roast is not on record yet: an error, or the form once more with the question. */
export function notRecorded(
  form: FormState,
  checked: Exclude<CheckedRoast, { readonly kind: 'counts' }>,
  again: (start: RoastStart) => ModalView,
): SubmitAnswer {
  if (checked.kind === 'refused') return { errors: { [checked.field]: checked.message } };
  const [green, roasted, day] = [written(form, 'green'), written(form, 'roasted'), written(form, 'day')];
  const asked = { question: checked, ...answered(form) };
  return { replaceForm: again({ green, roasted, day, asked }) };
}

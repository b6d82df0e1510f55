import type { KnownBlock, ModalView } from '@slack/types';
import type { UnitSystem } from '../../domain/measure/format-weight.js';
import { parseWeightField } from '../../domain/measure/parse-weight.js';
import { type CheckedRoast, type RoastReport, roastDayProblem } from '../../domain/roast/check-roast.js';
import { isLocalDay, type LocalDay } from '../../domain/when/local-day.js';
import { section } from '../../kit/blocks.js';
import { mrkdwn, plain } from '../../kit/escape.js';
import { checkInput, selectInput } from '../../kit/form.js';
import type { SubmitAnswer } from '../common/bot.js';
import { chosen, type FormState, written } from '../common/intake.js';

/* What every form shares in which a roast comes in: its fields are green, roasted, day, drum and sure. */

export type RoastQuestion = Extract<CheckedRoast, { readonly kind: 'question' }>;

/** What a roast form starts from: what was typed before it came back with a question, or what is known. */
export type RoastStart = {
  readonly green: string;
  readonly roasted: string;
  readonly day: LocalDay;
  readonly question: RoastQuestion | null;
};

/** The question with which a form came back: the sentence and its box, the drums to choose from. */
export function questionInputs(question: RoastQuestion | null): readonly KnownBlock[] {
  if (!question) return [];
  const { odd, drums } = question;
  const sure = [{ label: 'Both weights are right', value: 'yes' }];
  const choices = drums.map((drum) => ({ label: plain(drum), value: drum }));
  return [
    ...(odd === null
      ? []
      : [section(`:warning: ${mrkdwn(odd)}`), checkInput('sure', 'Is it so?', sure, { optional: true })]),
    ...(choices.length > 0 ? [selectInput('drum', 'Roasted in which drum?', choices)] : []),
  ];
}

/** Reads a roast form; what does not fit is said beside its field. Without `green` it may stay empty. */
export function readRoastForm(
  form: FormState,
  today: LocalDay,
  units: UnitSystem,
  needsGreen: boolean,
):
  | { readonly ok: true; readonly report: RoastReport }
  | { readonly ok: false; readonly errors: Readonly<Record<string, string>> } {
  const errors: Record<string, string> = {};
  const greenText = written(form, 'green');
  const green = greenText === '' && !needsGreen ? null : parseWeightField(greenText, units);
  const roasted = parseWeightField(written(form, 'roasted'), units);
  if (green && !green.ok) errors['green'] = green.message;
  if (!roasted.ok) errors['roasted'] = roasted.message;
  const roastedOn = written(form, 'day') || today;
  const problem = isLocalDay(roastedOn) ? roastDayProblem(roastedOn, today) : 'Pick the day of the roast.';
  if (problem !== null) errors['day'] = problem;
  if (!roasted.ok || Object.keys(errors).length > 0) return { ok: false, errors };
  const drum = chosen(form, 'drum')[0] ?? null;
  const sure = chosen(form, 'sure').includes('yes');
  return {
    ok: true,
    report: { greenMg: green?.ok ? green.mg : null, roastedMg: roasted.mg, roastedOn, drum, sure },
  };
}

/** The answer to a form whose roast is not on record yet: an error, or the form once more with the question. */
export function notRecorded(
  form: FormState,
  checked: Exclude<CheckedRoast, { readonly kind: 'counts' }>,
  again: (start: RoastStart) => ModalView,
): SubmitAnswer {
  if (checked.kind === 'refused') return { errors: { [checked.field]: checked.message } };
  const [green, roasted, day] = [written(form, 'green'), written(form, 'roasted'), written(form, 'day')];
  return { replaceForm: again({ green, roasted, day, question: checked }) };
}

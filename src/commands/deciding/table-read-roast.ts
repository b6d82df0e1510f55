import { daysAfter, isLocalDay, type LocalDay } from '../../domain/when/local-day.js';
import { type FormState, written } from '../common/intake.js';
import { readGramsField } from '../shelf/shelf-grams.js';

/** A roast may be reported this long after its day. */
const REPORT_DAYS = 60;

/** What went in and came out of one load, milligrams. */
export type ReadRoast = {
  readonly greenMg: number;
  readonly roastedMg: number;
  readonly roastedOn: string;
  readonly remarks: string | null;
};

/** Reads the form of a group's roast; what does not fit is said beside its field. */
export function readRoast(
  form: FormState,
  today: LocalDay,
  units: 'metric' | 'pounds',
):
  | { readonly ok: true; readonly roast: ReadRoast }
  | { readonly ok: false; readonly errors: Record<string, string> } {
  const errors: Record<string, string> = {};
  const green = readGramsField(written(form, 'green'), units);
  const roasted = readGramsField(written(form, 'roasted'), units);
  if (!green.ok) errors['green'] = green.message;
  if (!roasted.ok) errors['roasted'] = roasted.message;
  if (green.ok && roasted.ok && roasted.mg >= green.mg)
    errors['roasted'] = 'Roasted coffee weighs less than the green did. Are the two weights swapped?';
  if (roasted.ok && roasted.mg <= 0) errors['roasted'] = 'What came out weighs something.';
  const roastedOn = written(form, 'day') || today;
  if (!isLocalDay(roastedOn) || roastedOn > today || roastedOn < daysAfter(today, -REPORT_DAYS))
    errors['day'] = `A day from the last ${REPORT_DAYS} days, today at the latest.`;
  if (!green.ok || !roasted.ok || Object.keys(errors).length > 0) return { ok: false, errors };
  const remarks = written(form, 'remarks') || null;
  return { ok: true, roast: { greenMg: green.mg, roastedMg: roasted.mg, roastedOn, remarks } };
}

import { withoutUnseen } from '../../domain/measure/unseen.js';
import type { FormState } from './intake.js';

/** What was written in one input, trimmed and without control characters; '' when left empty. */
export function written(form: FormState, name: string): string {
  const value = form.values.get(name);
  return typeof value === 'string' ? withoutUnseen(value).trim() : '';
}

/** What was chosen in an input that takes several. */
export function chosen(form: FormState, name: string): readonly string[] {
  const value = form.values.get(name);
  return value === null || value === undefined ? [] : typeof value === 'string' ? [value] : value;
}

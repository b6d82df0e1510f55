import { z } from 'zod';

/** A text column that holds JSON of the given shape. */
export function storedJson<T extends z.ZodType>(inner: T) {
  return z
    .string()
    .transform((text, context) => {
      try {
        const parsed: unknown = JSON.parse(text);
        return parsed;
      } catch {
        context.addIssue({ code: 'custom', message: 'not JSON' });
        return z.NEVER;
      }
    })
    .pipe(inner);
}

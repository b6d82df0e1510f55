import type { z } from 'zod';

/** JSON text through a schema; undefined when it is not JSON or does not fit. */
export function parsedJson<T extends z.ZodType>(text: string, schema: T): z.output<T> | undefined {
  try {
    return schema.safeParse(JSON.parse(text)).data;
  } catch {
    return undefined;
  }
}

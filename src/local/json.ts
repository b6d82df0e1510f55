/** Reading JSON that nobody has checked yet. */
import { z } from 'zod';
import { JsonObject } from './api-types.js';

const Objects = z.array(JsonObject);

/** JSON text through a schema; undefined when it is not JSON or does not fit. */
export function parsedJson<T extends z.ZodType>(text: string, schema: T): z.output<T> | undefined {
  try {
    return schema.safeParse(JSON.parse(text)).data;
  } catch {
    return undefined;
  }
}

/** The value as an object, or nothing. */
export function objectIn(value: unknown): JsonObject | undefined {
  return JsonObject.safeParse(value).data;
}

/** The value as a list of objects, or an empty one. */
export function objectsIn(value: unknown): readonly JsonObject[] {
  return Objects.safeParse(value).data ?? [];
}

/** The value as text, or nothing. */
export function textIn(value: unknown): string | undefined {
  return typeof value === 'string' ? value : undefined;
}

import { z } from 'zod';
import type { Context } from '../context.js';
import { SlackError } from '../refusals.js';

/** What a method answers beside `ok: true`. */
export type Reply = Readonly<Record<string, unknown>>;

/** One method of the Web API, as the table lists it. */
export type Method = {
  readonly name: string;
  /** Any of these scopes is enough; none asked for when empty. */
  readonly scopes: readonly string[];
  readonly answer: (ctx: Context, args: Readonly<Record<string, unknown>>) => Reply;
};

/** A method whose arguments are checked by a schema; what does not fit is refused as Slack refuses it. */
export function method<T extends z.ZodType>(
  name: string,
  scopes: readonly string[],
  schema: T,
  answer: (ctx: Context, args: z.output<T>) => Reply,
): Method {
  return {
    name,
    scopes,
    answer: (ctx, given) => {
      const checked = schema.safeParse(given);
      if (checked.success) return answer(ctx, checked.data);
      const missing = checked.error.issues.filter((issue) => given[String(issue.path[0])] === undefined);
      const messages = checked.error.issues.map(
        (issue) => `[ERROR] ${issue.message} [json-pointer:/${issue.path.map(String).join('/')}]`,
      );
      throw new SlackError(missing.length > 0 ? 'missing_argument' : 'invalid_arguments', {
        response_metadata: { messages },
      });
    },
  };
}

/** Form fields arrive as text. */
export const FormBoolean = z
  .union([
    z.boolean(),
    z.enum(['true', 'false', '1', '0']).transform((text) => text === 'true' || text === '1'),
  ])
  .optional();
export const FormNumber = z.coerce.number();
/** An empty text argument is the same as none. */
export const OptionalText = z
  .string()
  .optional()
  .transform((text) => (text === '' ? undefined : text));

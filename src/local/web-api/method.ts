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

export const pageArguments = { limit: FormNumber.int().min(0).max(1_000).optional(), cursor: OptionalText };

/** One page of a list, and Slack's cursor to the next one. */
export function pageOf<T>(
  all: readonly T[],
  args: { readonly limit?: number | undefined; readonly cursor?: string | undefined },
  usual: number,
): {
  readonly page: readonly T[];
  readonly more: boolean;
  readonly response_metadata: { next_cursor: string };
} {
  const start = args.cursor === undefined ? 0 : positionOf(args.cursor);
  const size = args.limit === undefined || args.limit === 0 ? usual : args.limit;
  const end = start + size;
  const more = end < all.length;
  const next = more ? Buffer.from(`at:${end}`).toString('base64') : '';
  return { page: all.slice(start, end), more, response_metadata: { next_cursor: next } };
}

function positionOf(cursor: string): number {
  const match = /^at:(\d+)$/.exec(Buffer.from(cursor, 'base64').toString());
  const position = z.coerce.number().int().safeParse(match?.[1]);
  if (!position.success) throw new SlackError('invalid_cursor');
  return position.data;
}

import { z } from 'zod';
import { SlackError } from '../refusals.js';
import { FormNumber, OptionalText } from './method.js';

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

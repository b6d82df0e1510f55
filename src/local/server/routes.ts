import type { z } from 'zod';
import type { Context } from '../context.js';
import { RefusedAction } from '../refusals.js';

/** One route of the JSON API: how it is asked, and what answers. */
export type Route = {
  readonly method: 'GET' | 'POST' | 'DELETE';
  /** A segment that begins with a colon is a parameter. */
  readonly path: string;
  readonly answer: (ctx: Context, params: Readonly<Record<string, string>>, input: unknown) => unknown;
};

/** A route whose body (or, for GET, query) is checked before anything happens. */
export function route<T extends z.ZodType>(
  asked: `${Route['method']} ${string}`,
  schema: T,
  answer: (ctx: Context, input: z.output<T>, params: Readonly<Record<string, string>>) => unknown,
): Route {
  const [verb = '', path = ''] = asked.split(' ');
  return {
    method: verb === 'POST' || verb === 'DELETE' ? verb : 'GET',
    path,
    answer: (ctx, params, input) => {
      const checked = schema.safeParse(input);
      if (checked.success) return answer(ctx, checked.data, params);
      const [issue] = checked.error.issues;
      const field = issue?.path.map(String).join('.') ?? '';
      const message = `${asked}: ${field === '' ? '' : `"${field}" `}${issue?.message ?? 'was not understood'}.`;
      throw new RefusedAction('bad_request', message);
    },
  };
}

/** The route for a request and its parameters, or nothing. */
export function findRoute(
  routes: readonly Route[],
  method: string,
  path: string,
): { readonly route: Route; readonly params: Readonly<Record<string, string>> } | undefined {
  for (const candidate of routes) {
    const params = candidate.method === method ? matched(candidate.path, path) : undefined;
    if (params !== undefined) return { route: candidate, params };
  }
  return undefined;
}

function matched(pattern: string, path: string): Record<string, string> | undefined {
  const wanted = pattern.split('/');
  const given = path.split('/');
  if (wanted.length !== given.length) return undefined;
  const params: Record<string, string> = {};
  for (const [index, part] of wanted.entries()) {
    const value = given[index] ?? '';
    if (part.startsWith(':')) params[part.slice(1)] = value;
    else if (part !== value) return undefined;
  }
  return params;
}

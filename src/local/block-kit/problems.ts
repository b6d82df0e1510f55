/** What Slack says of a payload that it refuses, in the form of `response_metadata.messages`. */
import type { z } from 'zod';

export type Problem = {
  /** Slack's error code for the whole call. */
  readonly error: string;
  /** JSON pointer to the field. */
  readonly pointer: string;
  readonly message: string;
};

/** One problem as Slack words it, with the field at the end. */
export function wording(problem: Problem): string {
  return `[ERROR] ${problem.message} [json-pointer:${problem.pointer}]`;
}

/** JSON pointer (RFC 6901) of a path. */
export function pointerOf(path: readonly PropertyKey[]): string {
  return path.map((part) => `/${String(part).replaceAll('~', '~0').replaceAll('/', '~1')}`).join('');
}

/** The problems in a failed check, under `base`. */
export function problemsOf(
  error: string,
  issues: readonly z.core.$ZodIssue[],
  base: readonly PropertyKey[],
): Problem[] {
  return issues.map((issue) => ({
    error,
    pointer: pointerOf([...base, ...issue.path]),
    message: sentence(issue),
  }));
}

function sentence(issue: z.core.$ZodIssue): string {
  switch (issue.code) {
    case 'too_big':
      return issue.origin === 'string'
        ? `must be less than ${Number(issue.maximum) + 1} characters`
        : issue.origin === 'array'
          ? `no more than ${issue.maximum} items allowed`
          : `must be no more than ${issue.maximum}`;
    case 'too_small':
      return issue.origin === 'string'
        ? `must be more than ${Number(issue.minimum) - 1} characters`
        : issue.origin === 'array'
          ? `no fewer than ${issue.minimum} items allowed`
          : `must be no less than ${issue.minimum}`;
    case 'unrecognized_keys':
      return `invalid additional property: ${issue.keys.join(', ')}`;
    case 'invalid_union':
      return 'unsupported type';
    case 'invalid_type':
      return issue.input === undefined
        ? `missing required field (expected ${issue.expected})`
        : `must be a ${issue.expected}`;
    default:
      return issue.message;
  }
}

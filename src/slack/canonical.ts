import { createHash } from 'node:crypto';

/** JSON with sorted keys, so that equal values have equal text. */
export function canonicalJson(value: unknown): string {
  return JSON.stringify(value, (_, part: unknown) =>
    typeof part === 'object' && part !== null && !Array.isArray(part)
      ? Object.fromEntries(Object.entries(part).sort(([a], [b]) => (a < b ? -1 : 1)))
      : part,
  );
}

export function hashOf(text: string): string {
  return createHash('sha256').update(text).digest('hex');
}

/** A notice's key as it travels in Slack, where anyone in the channel could read it: told apart, not told. */
export function travellingKey(workspace: string, key: string): string {
  return hashOf(`${workspace} ${key}`).slice(0, 32);
}

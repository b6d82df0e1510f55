import type { Faults } from '../faults.js';

/** A trigger id opens one form within three real seconds. */
const TRIGGER_LIFE_MS = 3_000;

export type Triggers = {
  readonly issue: (person: string) => string;
  /** Uses a trigger up; answers who set it off, or Slack's error. */
  readonly exchange: (id: string) => { readonly person: string } | { readonly error: string };
};

export function triggers(faults: Faults, lifeMs: number = TRIGGER_LIFE_MS): Triggers {
  const issued = new Map<string, { readonly person: string; readonly until: number; used: boolean }>();
  let counter = 0;
  return {
    issue: (person) => {
      for (const [id, trigger] of issued) {
        // Kept for a while after they are dead, so that a late use gets the right error.
        if (performance.now() > trigger.until + 60_000) issued.delete(id);
        else break;
      }
      counter += 1;
      const id = `${Date.now()}.${counter}.${Math.random().toString(16).slice(2, 14)}`;
      const expired = faults.strike('expire-triggers', 'trigger') !== undefined;
      issued.set(id, { person, until: performance.now() + (expired ? -1 : lifeMs), used: false });
      return id;
    },
    exchange: (id) => {
      const trigger = issued.get(id);
      if (trigger === undefined) return { error: 'invalid_trigger_id' };
      if (trigger.used) return { error: 'exchanged_trigger_id' };
      if (performance.now() > trigger.until) return { error: 'expired_trigger_id' };
      trigger.used = true;
      return { person: trigger.person };
    },
  };
}

import { post } from '../api.js';
import { update, workspaceNow } from '../store.js';
import { loadWorkspace } from './load.js';

export const HOUR = 3_600_000;
export const DAY = 24 * HOUR;

export async function moveClock(
  change: { readonly advance: number } | { readonly to: string },
): Promise<void> {
  const answer = await post('/local/clock', change);
  update(answer.ok ? { trouble: null, clockOpen: false } : { trouble: answer.message });
  await loadWorkspace();
}

/** Moves on to a chosen time; the workspace's clock never runs backwards. */
export async function moveClockTo(at: Date | null): Promise<void> {
  if (at === null) return update({ trouble: 'Choose a day and a time first.' });
  if (at <= workspaceNow()) {
    return update({ trouble: 'The clock only moves on. Choose a time that is still to come.' });
  }
  await moveClock({ to: at.toISOString() });
}

import { localDay } from '../../domain/when/local-day.js';
import { findAsk, updateAsk } from '../../store/asks.js';
import { markChanged } from '../../store/changed.js';
import { loadHouse } from '../../store/house.js';
import type { Deps, DueReminder } from '../common/bot.js';
import { type AskContext, NOBODY, touchAsk } from '../planning/ask-settle.js';
import { replanRoasts } from '../planning/plan-roasts.js';
import { makeChange } from './ask-change.js';

/**
 * A moment of an ask has come. Most are kept in its history, from which the notices follow; an ask that nobody
 * answered before its day lapses, and a roast that nobody reported counts as missed. Either way its tables
 * are planned anew, so that no lateness stays silent. Runs in the transaction that marks it as fired.
 */
export async function askReminderDue(deps: Deps, reminder: DueReminder): Promise<void> {
  const { workspace } = reminder;
  const ask = await findAsk(deps.db, workspace, Number(/^ask:(\d+)$/u.exec(reminder.subject)?.[1] ?? 0));
  if (!ask) return;
  const house = await loadHouse(deps.db, workspace);
  const context: AskContext = { workspace, now: deps.clock.now(), who: NOBODY, house };
  const past = ask.roastDay < localDay(context.now, house.timeZone);
  if (reminder.kind === 'ask lapsed' && past && (ask.state === 'asked' || ask.state === 'offered')) {
    const detail = { what: 'lapsed', day: ask.roastDay };
    const change = { who: NOBODY, at: context.now, detail };
    await updateAsk(deps.db, workspace, ask, { state: 'withdrawn', offered_day: null }, change);
    await touchAsk(deps.db, context, ask.id);
    await replanRoasts(deps.db, context);
    return;
  }
  if (reminder.kind === 'ask given up' && past && ask.state === 'accepted') {
    await makeChange(deps.db, context, ask, { kind: 'missed' });
    return;
  }
  const detail = { what: 'reminded', kind: reminder.kind, day: ask.roastDay };
  await updateAsk(deps.db, workspace, ask, {}, { who: NOBODY, at: context.now, detail });
  await markChanged(deps.db, workspace, reminder.subject, context.now);
}

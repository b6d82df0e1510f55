import { listSetAside } from '../store/inbox.js';
import { listStopped } from '../store/notices.js';
import { openDatabase } from '../store/sqlite/open.js';
import { DatabaseProblem } from '../store/sqlite/problems.js';
import { listChannels } from '../store/tastings.js';
import { bad, type Finding, good } from './finding.js';

/** What was found, and the channels the tables are in: none when the database does not open. */
export type Examined = { readonly findings: readonly Finding[]; readonly channels: readonly string[] };

/** Is the database whole, and is there anything in it that could not be handled or shown? */
export async function checkDatabase(file: string): Promise<Examined> {
  try {
    const open = await openDatabase(file);
    const aside = await listSetAside(open.db);
    const stopped = await listStopped(open.db);
    const channels = await listChannels(open.db);
    await open.close();
    const findings = [
      good(`database: ${file} is whole`),
      ...aside.map(({ kind, eventId, error }) =>
        bad(
          `event ${eventId} (${kind}) could not be handled: ${error ?? 'no reason kept'}`,
          'It is kept and tried again at the next start. If it fails again, the log holds the whole error.',
        ),
      ),
      ...stopped.map(({ key, channel, error }) =>
        bad(
          `notice ${key} cannot be shown${channel === null ? '' : ` in ${channel}`}: ${error ?? 'no reason kept'}`,
          'Invite the bot to the channel (or unarchive it): what was stopped there is then tried again.',
        ),
      ),
    ];
    return { findings, channels };
  } catch (error) {
    if (error instanceof DatabaseProblem) return { findings: [bad('database', error.message)], channels: [] };
    throw error;
  }
}

import { backUp, listBackups, rotateBackups } from '../../store/sqlite/backup.js';
import { createLoop, type Loop } from '../loop.js';
import type { Runtime } from '../runtime.js';

const KEPT = 14;
const NIGHT_HOUR_UTC = 2;

/** One backup a night (UTC), the latest fourteen kept; one missed while the bot was off is made at start. */
export function createNightlyBackup(runtime: Runtime, database: string, folder: string): Loop {
  return createLoop('backup', runtime, async () => {
    const now = runtime.deps.clock.now();
    const night = now.getUTCHours() < NIGHT_HOUR_UTC ? new Date(now.getTime() - 86_400_000) : now;
    const day = night.toISOString().slice(0, 10).replaceAll('-', '');
    const latest = listBackups(folder)[0];
    if (latest !== undefined && latest >= `${folder}/tallyspoon-${day}T0${NIGHT_HOUR_UTC}`) return null;
    const made = await backUp(database, folder, now);
    const gone = rotateBackups(folder, KEPT);
    runtime.deps.log.info({ made, gone: gone.length }, 'backed up');
    return null;
  });
}

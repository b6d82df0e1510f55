import { checkpoint, checkpointByHand } from '../store/checkpoint.js';
import type { OpenDatabase } from '../store/sqlite/open.js';
import type { House } from './house.js';
import { createLoop, type Loop } from './loop.js';

/** About as many as fill the thousand pages after which SQLite would do it by itself. */
const ROWS = 1000;
/** A checkpoint takes longer than any other step, so it waits for a real pause, though not for ever. */
const PAUSE_MS = 50;
const ROWS_AT_THE_LATEST = 20 * ROWS;

/** Makes the database's checkpoints between requests instead of during one. */
export function createCheckpoints(
  house: Pick<House, 'rowsWritten' | 'rightOfWay' | 'deps' | 'counters'>,
  open: OpenDatabase,
): Loop {
  checkpointByHand(open);
  let done = house.rowsWritten();
  return createLoop('checkpoints', house, async () => {
    const rows = house.rowsWritten() - done;
    if (rows < ROWS) return null;
    if (rows < ROWS_AT_THE_LATEST && house.rightOfWay.quietMs() < PAUSE_MS) return PAUSE_MS;
    await house.rightOfWay.toShow();
    await checkpoint(open);
    done = house.rowsWritten();
    return null;
  });
}

import { checkpoint, checkpointByHand } from '../store/checkpoint.js';
import type { OpenDatabase } from '../store/db.js';
import type { House } from './house.js';
import { createLoop, type Loop } from './loop.js';

/** About as many as fill the thousand pages after which SQLite would do it by itself. */
const ROWS = 1000;

/** Makes the database's checkpoints between requests instead of during one. */
export function createCheckpoints(
  house: Pick<House, 'rowsWritten' | 'rightOfWay' | 'deps' | 'counters'>,
  open: OpenDatabase,
): Loop {
  checkpointByHand(open);
  let done = house.rowsWritten();
  return createLoop('checkpoints', house, async () => {
    if (house.rowsWritten() - done < ROWS) return null;
    await house.rightOfWay.toShow();
    await checkpoint(open);
    done = house.rowsWritten();
    return null;
  });
}

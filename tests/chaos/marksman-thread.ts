import process from 'node:process';
import { parentPort } from 'node:worker_threads';
import Database from 'better-sqlite3';
import type { Order } from './marksman.js';

/* The thread that watches a database file and kills at a commit: see marksman.ts. */

const LOOK_EVERY_MS = 0.05;

parentPort?.on('message', (order: Order) => {
  parentPort?.postMessage(watch(order));
});

/** True when it has killed. The connection only reads and is closed again, so that the file stays as it was left. */
function watch({ file, sql, nth, pid, flag }: Order): boolean {
  const db = new Database(file, { readonly: true, fileMustExist: true, timeout: 1_000 });
  try {
    const version = db.prepare('pragma data_version').pluck();
    const number = db.prepare<[], number>(sql).pluck();
    let seenVersion = version.get();
    let before = number.get() ?? 0;
    let grown = 0;
    while (Atomics.wait(flag, 0, 0, LOOK_EVERY_MS) === 'timed-out') {
      const now = version.get();
      if (now === seenVersion) continue;
      seenVersion = now;
      const value = number.get() ?? 0;
      if (value > before) grown += 1;
      before = value;
      if (grown < nth) continue;
      process.kill(pid, 'SIGKILL');
      return true;
    }
    return false;
  } finally {
    db.close();
  }
}

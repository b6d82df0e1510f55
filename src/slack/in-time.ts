/** Slack waits three seconds for an answer; what takes longer than this is answered later another way. */
const PATIENCE_MS = 2200;

/** The work's result, or null when it is not there in time (it goes on). */
export async function inTime<T>(work: Promise<T>, patienceMs = PATIENCE_MS): Promise<T | null> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<null>((resolve) => {
    timer = setTimeout(() => resolve(null), patienceMs);
  });
  try {
    return await Promise.race([work, late]);
  } finally {
    clearTimeout(timer);
  }
}

const NOBODY = 65_534;

/** Does the work as a user whom file permissions bind: as root they would bind nobody. */
export async function asNobody<T>(work: () => Promise<T>): Promise<T> {
  const isRoot = process.geteuid?.() === 0;
  if (isRoot) process.seteuid?.(NOBODY);
  try {
    return await work();
  } finally {
    if (isRoot) process.seteuid?.(0);
  }
}

/** Runs one piece of work after another. */
export type Queue = <T>(work: () => Promise<T>) => Promise<T>;

export function createQueue(): Queue {
  let last: Promise<unknown> = Promise.resolve();
  return (work) => {
    const mine = last.then(work);
    last = mine.catch(() => {});
    return mine;
  };
}

import { once } from 'node:events';
import { Worker } from 'node:worker_threads';

/*
 * What a kill can be aimed at: a commit that makes a number grow. The bot dies within a fraction of a
 * millisecond of it, before it can do what follows.
 */

/** `file` is whose database is watched, `sql` yields the number. */
export type Aim = { readonly what: string; readonly file: 'bot' | 'slack'; readonly sql: string };

export const REMINDER_GIVEN: Aim = {
  what: 'a reminder is claimed',
  file: 'bot',
  sql: 'select count(*) from reminder where fired_at is not null',
};

export const AIMS: readonly [Aim, ...Aim[]] = [
  { what: 'an event is stored', file: 'bot', sql: 'select coalesce(max(id), 0) from inbox' },
  { what: 'a note is counted', file: 'bot', sql: 'select count(*) from note' },
  {
    what: 'a post is begun',
    file: 'bot',
    sql: "select count(*) from notice where state = 'posting'",
  },
  { what: 'a post is noted', file: 'bot', sql: 'select count(*) from notice where ts is not null' },
  {
    what: 'Slack has taken a post',
    file: 'slack',
    sql: 'select count(*) from message where metadata is not null',
  },
  {
    what: 'Slack has taken a post',
    file: 'slack',
    sql: 'select count(*) from message where metadata is not null',
  },
  { what: 'Slack has taken a reaction', file: 'slack', sql: 'select count(*) from reaction' },
];

/** Kills a process at the nth commit of a kind, from a thread of its own that does nothing but watch. */
export type Marksman = {
  /** Resolves once it has killed, or was called off. */
  readonly aim: (aim: Aim, file: string, nth: number, pid: number) => Promise<'killed' | 'called off'>;
  readonly callOff: () => void;
  /** Resolves when it aims at nothing. */
  readonly idle: () => Promise<void>;
  readonly close: () => Promise<void>;
};

/** What the watching thread is asked for; `flag` becomes 1 when it is called off. */
export type Order = {
  readonly file: string;
  readonly sql: string;
  readonly nth: number;
  readonly pid: number;
  readonly flag: Int32Array;
};

export function hireMarksman(): Marksman {
  const worker = new Worker(new URL('./marksman-thread.js', import.meta.url));
  worker.unref();
  const flag = new Int32Array(new SharedArrayBuffer(4));
  let current: Promise<unknown> = Promise.resolve();

  async function give(order: Omit<Order, 'flag'>): Promise<'killed' | 'called off'> {
    Atomics.store(flag, 0, 0);
    const done = once(worker, 'message');
    worker.postMessage({ ...order, flag } satisfies Order);
    const [killed] = await done;
    return killed === true ? 'killed' : 'called off';
  }

  return {
    aim: ({ sql }, file, nth, pid) => {
      const shot = current.then(() => give({ file, sql, nth, pid }));
      current = shot;
      return shot;
    },
    idle: async () => {
      await current;
    },
    callOff: () => {
      Atomics.store(flag, 0, 1);
      Atomics.notify(flag, 0);
    },
    close: async () => {
      await worker.terminate();
    },
  };
}

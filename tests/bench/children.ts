import { type ChildProcess, fork } from 'node:child_process';
import { join } from 'node:path';
import { z } from 'zod';

/** A process of the benchmark and a way to ask it things. */
export type Child = {
  readonly url: string;
  /** Milliseconds from starting the process until it was ready. */
  readonly startedInMs: number;
  ask<T>(schema: z.ZodType<T>, question: Readonly<Record<string, unknown>>): Promise<T>;
  stop(): Promise<void>;
};

const Message = z.union([z.object({ ready: z.string() }), z.object({ id: z.number(), answer: z.unknown() })]);

/** As `npm start` runs the bot, and the floor alike; and with a way to collect garbage before memory is read. */
const RUNS_WITH = ['--max-semi-space-size=32', '--enable-source-maps', '--expose-gc'];

/** Starts one of the processes beside this file; resolves when it says where it listens. */
export async function startChild(
  name: string,
  args: readonly string[],
  execArgv: readonly string[] = [],
): Promise<Child> {
  const started = performance.now();
  const process_ = fork(join(import.meta.dirname, `${name}.js`), [...args], {
    execArgv: [...RUNS_WITH, ...execArgv],
    stdio: ['ignore', 'inherit', 'inherit', 'ipc'],
  });
  const waiting = new Map<number, (answer: unknown) => void>();
  let asked = 0;
  const url = await new Promise<string>((resolve, reject) => {
    process_.once('exit', (code) => reject(new Error(`${name} ended with ${code}`)));
    process_.on('message', (raw) => {
      const message = Message.parse(raw);
      if ('ready' in message) return resolve(message.ready);
      waiting.get(message.id)?.(message.answer);
      waiting.delete(message.id);
    });
  });
  return {
    url,
    startedInMs: performance.now() - started,
    async ask(schema, question) {
      asked += 1;
      const id = asked;
      const answer = new Promise((resolve) => waiting.set(id, resolve));
      process_.send(JSON.stringify({ id, ...question }));
      return schema.parse(await answer);
    },
    stop: () => end(process_),
  };
}

function end(child: ChildProcess): Promise<void> {
  if (child.exitCode !== null) return Promise.resolve();
  return new Promise((resolve) => {
    child.once('exit', () => resolve());
    child.kill('SIGTERM');
  });
}

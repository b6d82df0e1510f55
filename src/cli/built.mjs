/*
 * `node src/cli/built.mjs NAME …` runs dist/NAME.js in this very process, so that signals reach it, and builds first
 * when dist/ is missing or older than the source; an install without the compiler runs the dist/ it has.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import process from 'node:process';
import { fileURLToPath, pathToFileURL } from 'node:url';

const home = fileURLToPath(new URL('../..', import.meta.url));
const main = join(home, 'dist', `${process.argv[2]}.js`);
/** Written by the last step of a build. */
const lastBuilt = join(home, 'dist', 'local', 'page', 'index.html');

if (!isFresh()) build();
if (process.env['npm_lifecycle_event'] !== undefined) endWithParent();
process.argv.splice(1, 2, main);
await import(pathToFileURL(main).href);

/** npm hands a signal to the shell between, and not every shell hands it on: when that is gone, so is the wish. */
function endWithParent() {
  const parent = process.ppid;
  const watch = setInterval(() => {
    if (process.ppid === parent) return;
    clearInterval(watch);
    process.kill(process.pid, 'SIGTERM');
  }, 250);
  watch.unref();
}

function isFresh() {
  return existsSync(main) && existsSync(lastBuilt) && newestSource() <= statSync(lastBuilt).mtimeMs;
}

/** Folders count too: theirs is the change when a file is taken away. */
function newestSource() {
  const source = join(home, 'src');
  const files = existsSync(source) ? readdirSync(source, { recursive: true }) : [];
  const times = files.map((name) => statSync(join(source, name)).mtimeMs);
  return times.reduce(
    (newest, time) => Math.max(newest, time),
    statSync(join(home, 'tsconfig.json')).mtimeMs,
  );
}

function build() {
  if (existsSync(join(home, 'node_modules', 'typescript'))) {
    // What the compiler says goes to standard error: standard output is the command's own.
    const { status } = spawnSync('npm run --silent build', {
      cwd: home,
      shell: true,
      stdio: ['ignore', 2, 2],
    });
    if (status !== 0) process.exit(status ?? 1);
  } else if (!existsSync(main)) {
    process.stderr.write('There is no dist/, and no compiler to build it: npm ci, then npm run build.\n');
    process.exit(1);
  }
}

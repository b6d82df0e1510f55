import { execFileSync } from 'node:child_process';

function node(...words: readonly string[]): void {
  execFileSync(process.execPath, words, { stdio: 'inherit' });
}

/** Builds the bot and the page once before the browser tests, so that they see both as they are written now. */
export function setup(): void {
  const tsc = 'node_modules/typescript/bin/tsc';
  // Types are checked elsewhere; here only what runs is wanted.
  node(tsc, '--noCheck');
  node(tsc, '-p', 'src/local/page');
  node('src/local/page/copy-page.mjs');
}

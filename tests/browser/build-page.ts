import { execFileSync } from 'node:child_process';

/** Compiles the page once before the browser tests, so that they see the page as it is written now. */
export function setup(): void {
  execFileSync(process.execPath, ['node_modules/typescript/bin/tsc', '-p', 'src/local/page'], {
    stdio: 'inherit',
  });
  execFileSync(process.execPath, ['src/local/page/copy-page.mjs'], { stdio: 'inherit' });
}

// Puts what the compiler leaves alone beside the compiled page (html, styles) and, in place of the modules in
// vendor/, the packages they name: the browser resolves no package names.
import { cpSync, mkdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const here = dirname(fileURLToPath(import.meta.url));
const home = join(here, '..', '..', '..');
const target = process.argv[2] ?? join(home, 'dist', 'local', 'page');

mkdirSync(join(target, 'vendor'), { recursive: true });
for (const name of ['index.html', 'bowl.svg', 'styles']) {
  cpSync(join(here, name), join(target, name), { recursive: true });
}
for (const [from, to] of [
  ['preact/dist/preact.module.js', 'preact.js'],
  ['@date-fns/tz/tzOffset/index.js', 'tz-offset.js'],
  ['gemoji/index.js', 'gemoji.js'],
]) {
  cpSync(join(home, 'node_modules', from), join(target, 'vendor', to));
}

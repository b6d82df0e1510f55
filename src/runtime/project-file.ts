import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';

/** The path of a file of the project (manifest, fonts), from wherever this code was compiled to. */
export function projectFile(...path: readonly string[]): string {
  let root = import.meta.dirname;
  while (!existsSync(join(root, 'package.json')) && dirname(root) !== root) root = dirname(root);
  return join(root, ...path);
}

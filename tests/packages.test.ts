import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { z } from 'zod';

/* What may come in from outside: exact versions, each with a reason in writing, and nothing that runs at install. */

const Named = z.record(z.string(), z.string());
const Manifest = z.object({
  dependencies: Named,
  devDependencies: Named,
  allowScripts: z.record(z.string(), z.boolean()),
});
const Lock = z.object({
  packages: z.record(
    z.string(),
    z.looseObject({ version: z.string().optional(), hasInstallScript: z.boolean().optional() }),
  ),
});
const read = (file: string) => readFileSync(file, 'utf8');
const manifest = Manifest.parse(JSON.parse(read('package.json')));
const { packages } = Lock.parse(JSON.parse(read('package-lock.json')));

test('every version is exact, and the lock file holds that very one', () => {
  const all = Object.entries({ ...manifest.dependencies, ...manifest.devDependencies });
  expect(all.filter(([, version]) => !/^\d+\.\d+\.\d+$/.test(version))).toEqual([]);
  expect(all.filter(([name, version]) => packages[`node_modules/${name}`]?.version !== version)).toEqual([]);
});

test('only what has to compile runs a script at install, and it is approved by name', () => {
  const scripted = Object.entries(packages).filter(([, one]) => one.hasInstallScript === true);
  expect(scripted.map(([path]) => path)).toEqual(['node_modules/better-sqlite3']);
  expect(manifest.allowScripts).toEqual({ 'better-sqlite3': true });
});

test('docs/dependencies.md says of every production dependency why it is here and what it may touch', () => {
  const rows = read('docs/dependencies.md')
    .split('\n')
    .filter((line) => line.startsWith('| '))
    .slice(2);
  const listed = rows.flatMap((row) => {
    const [names = '', why = '', touches = ''] = row
      .split('|')
      .slice(1)
      .map((cell) => cell.trim());
    expect([names, why.length > 10, touches.length > 4]).toEqual([names, true, true]);
    const [first = '', ...more] = names.split(', ');
    // "@scope/long-name-a, -b" stands for two packages of one name's beginning.
    return [first, ...more.map((name) => (name.startsWith('-') ? first.replace(/-[^-]*$/, name) : name))];
  });
  expect(listed.toSorted()).toEqual(Object.keys(manifest.dependencies).toSorted());
});

import { readdirSync, readFileSync } from 'node:fs';
import { basename, dirname, join, normalize } from 'node:path';
import { expect, test } from 'vitest';

const COMMANDS = 'src/commands';

/** Which folders of commands each of them imports. */
function ties(): ReadonlyMap<string, ReadonlySet<string>> {
  const found = new Map<string, Set<string>>();
  for (const entry of readdirSync(COMMANDS, { withFileTypes: true, recursive: true })) {
    if (!entry.isFile() || !entry.name.endsWith('.ts')) continue;
    const folder = basename(entry.parentPath);
    const code = readFileSync(join(entry.parentPath, entry.name), 'utf8');
    for (const [, path = ''] of code.matchAll(/from '(\.\.\/[^']+)'/g)) {
      const other = dirname(normalize(join(entry.parentPath, path)));
      if (dirname(other) !== COMMANDS || basename(other) === folder) continue;
      found.set(folder, (found.get(folder) ?? new Set()).add(basename(other)));
    }
  }
  return found;
}

/** Every folder that is reached from this one. */
function reachedFrom(folder: string, from: ReadonlyMap<string, ReadonlySet<string>>): ReadonlySet<string> {
  const reached = new Set<string>();
  const queue = [...(from.get(folder) ?? [])];
  for (let next = queue.pop(); next !== undefined; next = queue.pop()) {
    if (reached.has(next)) continue;
    reached.add(next);
    queue.push(...(from.get(next) ?? []));
  }
  return reached;
}

test('no folder of what people do leads back to itself', () => {
  const from = ties();
  expect(from.size).toBeGreaterThan(10);
  expect([...from.keys()].filter((folder) => reachedFrom(folder, from).has(folder))).toEqual([]);
});

test('what every feature uses knows of none, and planning of nothing else', () => {
  const from = ties();
  expect([...(from.get('common') ?? [])]).toEqual([]);
  expect([...(from.get('planning') ?? [])]).toEqual(['common']);
});

test('each folder says in a few lines what it is for and how to add to it', () => {
  for (const folder of readdirSync(COMMANDS)) {
    const readme = readFileSync(join(COMMANDS, folder, 'README.md'), 'utf8');
    expect(readme.trim().split('\n').length).toBeLessThanOrEqual(14);
    for (const [, file = ''] of readme.matchAll(/`([a-z-]+\.ts)`/g))
      expect(readdirSync(join(COMMANDS, folder)), `${folder}/README.md names ${file}`).toContain(file);
  }
});

import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';

const PAGES = ['DEVELOPERS.md', ...readdirSync('docs').map((name) => join('docs', name))];

test.each(PAGES)('%s names only files that are there', (page) => {
  const named = [...readFileSync(page, 'utf8').matchAll(/`((?:src|tests|fixtures|docs)\/[\w./-]+)`/g)];
  const missing = named.map(([, path = '']) => path).filter((path) => !existsSync(path));
  expect(missing).toEqual([]);
});

test('every guard and its test is there', () => {
  const rows = readFileSync('docs/guards.md', 'utf8')
    .split('\n')
    .filter((line) => line.startsWith('| '));
  const cells = rows.slice(1).map((line) => line.split('|').map((cell) => cell.trim()));
  expect(cells.length).toBeGreaterThan(40);
  const missing = cells.flatMap(([, , guard = '', held = '']) => [
    ...[...guard.matchAll(/`([\w-]+(?:\/[\w.-]+)+)`/g)]
      .map(([, path = '']) => path)
      .filter((path) => !['src', 'tests', '.'].some((root) => existsSync(join(root, path)))),
    ...held
      .split(/[\s,()`]+/)
      .filter((path) => /^[a-z-]+(?:\/[a-z0-9-]+)+$/.test(path))
      .filter((path) => !['.test.ts', '.ts', ''].some((end) => existsSync(join('tests', `${path}${end}`)))),
  ]);
  expect(missing).toEqual([]);
});

test('the page for developers is one page', () => {
  expect(readFileSync('DEVELOPERS.md').byteLength).toBeLessThanOrEqual(10_240);
});

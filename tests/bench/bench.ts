import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { measure } from './measure.js';
import { asPage, asTable } from './report.js';

/*
 * `npm run bench` measures everything and writes docs/benchmark.md; `-- --quick` runs short; `-- --only acknowledge,memory` leaves the rest
 * out; `-- --notes N` fills the large database with N notes instead of a million; `-- --json` prints the figures
 * as JSON, `-- --json-file FILE` writes them beside the table.
 */

const { values } = parseArgs({
  options: {
    quick: { type: 'boolean', default: false },
    only: { type: 'string' },
    notes: { type: 'string', default: '1000000' },
    json: { type: 'boolean', default: false },
    'json-file': { type: 'string' },
  },
});

const folder = mkdtempSync(join(tmpdir(), 'tallyspoon-bench-'));
try {
  const results = await measure({
    folder,
    quick: values.quick,
    only: values.only?.split(',') ?? null,
    notes: Number(values.notes),
    say: (line) => process.stderr.write(`${line}\n`),
  });
  const json = JSON.stringify(results, null, 2);
  if (values['json-file']) writeFileSync(values['json-file'], json);
  if (!values.quick && values.only === undefined) writeFileSync('docs/benchmark.md', asPage(results));
  console.log(values.json ? json : asTable(results));
} finally {
  rmSync(folder, { recursive: true, force: true });
}

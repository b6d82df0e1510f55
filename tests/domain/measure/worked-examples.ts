import { readFileSync } from 'node:fs';
import { z } from 'zod';

const Example = z.object({
  id: z.string(),
  source: z.object({ publication: z.string(), locator: z.string() }),
  input: z.record(z.string(), z.unknown()),
  expected: z.record(z.string(), z.unknown()),
});

/** The published and hand-worked examples of fixtures/trade, each with its source. */
export const WORKED_EXAMPLES = z
  .array(Example)
  .parse(
    JSON.parse(
      readFileSync(new URL('../../../fixtures/trade/worked-examples.json', import.meta.url), 'utf8'),
    ),
  );

/** The examples whose id begins so; fails when there is none, so that no check can pass by being empty. */
export function examplesOf(prefix: string): readonly z.output<typeof Example>[] {
  const found = WORKED_EXAMPLES.filter((example) => example.id.startsWith(prefix));
  if (found.length === 0) throw new Error(`No worked example begins with ${prefix}.`);
  return found;
}

/** Rules that hold over all blocks of a message or view together. */
import type { JsonObject } from '../api-types.js';
import { limits } from './limits.js';
import { type Problem, pointerOf } from './problems.js';
import { allBlocks, elementsOf, textIn } from './walk.js';

/** Ids used twice, in the words and places Slack refuses them. */
export function repeatedIds(
  error: string,
  blocks: readonly JsonObject[],
  base: readonly PropertyKey[],
): Problem[] {
  const seen = new Set<string>();
  return blocks.flatMap((block, index) => {
    const problems: Problem[] = [];
    const blockId = textIn(block['block_id']);
    if (blockId !== undefined && seen.has(blockId)) {
      problems.push({
        error,
        pointer: pointerOf([...base, index, 'block_id']),
        message: `block_id "${blockId}" already exists`,
      });
    }
    if (blockId !== undefined) seen.add(blockId);
    const actionIds = new Set<string>();
    for (const element of elementsOf(block)) {
      const actionId = textIn(element['action_id']);
      if (actionId === undefined) continue;
      if (actionIds.has(actionId)) {
        problems.push({
          error,
          pointer: pointerOf([...base, index]),
          message: `action_id "${actionId}" already exists for block_id "${blockId ?? ''}"`,
        });
      }
      actionIds.add(actionId);
    }
    return problems;
  });
}

/** `markdown` blocks share one budget. */
export function markdownTotal(error: string, blocks: readonly JsonObject[]): Problem[] {
  const total = allBlocks(blocks)
    .filter((block) => block['type'] === 'markdown')
    .reduce((sum, block) => sum + (textIn(block['text'])?.length ?? 0), 0);
  if (total <= limits.markdownText) return [];
  return [
    {
      error,
      pointer: '/blocks',
      message: `markdown blocks must hold less than ${limits.markdownText + 1} characters in all`,
    },
  ];
}

/** A message carries one table. */
export function oneTable(error: string, blocks: readonly JsonObject[]): Problem[] {
  const tables = allBlocks(blocks).filter((block) => block['type'] === 'table');
  return tables.length > 1 ? [{ error, pointer: '/blocks', message: 'only one table allowed' }] : [];
}

/** Only one element may ask for the focus. */
export function oneFocus(error: string, blocks: readonly JsonObject[]): Problem[] {
  const focused = allBlocks(blocks)
    .flatMap(elementsOf)
    .filter((element) => element['focus_on_load'] === true);
  return focused.length > 1
    ? [{ error, pointer: '/blocks', message: 'focus_on_load may be true for one element only' }]
    : [];
}

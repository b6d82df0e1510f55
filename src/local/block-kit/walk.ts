/** Walks over blocks as plain JSON, checked or not: children, elements and the texts that people read. */
import { z } from 'zod';
import { JsonObject } from '../api-types.js';

const Objects = z.array(JsonObject);

/** The value as an object, or nothing. */
export function objectIn(value: unknown): JsonObject | undefined {
  return JsonObject.safeParse(value).data;
}

/** The value as a list of objects, or an empty one. */
export function objectsIn(value: unknown): readonly JsonObject[] {
  return Objects.safeParse(value).data ?? [];
}

/** The value as text, or nothing. */
export function textIn(value: unknown): string | undefined {
  return typeof value === 'string' ? value : undefined;
}

/** Every block and, for containers, the blocks inside. */
export function allBlocks(blocks: readonly JsonObject[]): readonly JsonObject[] {
  return blocks.flatMap((block) => [block, ...allBlocks(objectsIn(block['child_blocks']))]);
}

/** The interactive elements of one block, in the order they are shown. */
export function elementsOf(block: JsonObject): readonly JsonObject[] {
  const single = [block['element'], block['accessory']].map(objectIn).filter((one) => one !== undefined);
  switch (block['type']) {
    case 'actions':
    case 'context_actions':
      return objectsIn(block['elements']);
    case 'card':
      return objectsIn(block['actions']);
    case 'carousel':
      return objectsIn(block['elements']).flatMap(elementsOf);
    default:
      return single.filter((element) => element['type'] !== 'image');
  }
}

/** Characters in every `text` of a payload, which is what Slack's limit on a message's blocks counts. */
export function textLength(value: unknown): number {
  if (Array.isArray(value)) return value.reduce((sum: number, one) => sum + textLength(one), 0);
  if (typeof value !== 'object' || value === null) return 0;
  return Object.entries(value).reduce(
    (sum, [key, one]) => sum + (key === 'text' && typeof one === 'string' ? one.length : textLength(one)),
    0,
  );
}

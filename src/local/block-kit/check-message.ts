import { z } from 'zod';
import { JsonObject } from '../api-types.js';
import { objectsIn } from '../json.js';
import { MessageBlock } from './blocks.js';
import { limits } from './limits.js';
import { type Problem, problemsOf } from './problems.js';
import { repeatedIds, textLength } from './walk.js';

const ERROR = 'invalid_blocks';
const Blocks = z.array(MessageBlock).max(limits.messageBlocks);
const Metadata = z.strictObject({
  event_type: z.string().min(1).max(limits.id),
  event_payload: JsonObject,
});

/** The parts of a message that Slack limits; anything else in the payload is left alone. */
export type MessagePayload = {
  readonly text?: unknown;
  readonly blocks?: unknown;
  readonly metadata?: unknown;
};

/**
 * What Slack would refuse in a message, most telling first; empty when it would be accepted.
 * `use` matters for the text alone: a post is cut at 40,000 characters, an update refused over 4,000.
 */
export function checkMessage(payload: MessagePayload, use: 'post' | 'update' = 'post'): readonly Problem[] {
  return [...checkText(payload, use), ...checkBlocks(payload.blocks), ...checkMetadata(payload.metadata)];
}

function checkText(payload: MessagePayload, use: 'post' | 'update'): Problem[] {
  const text = typeof payload.text === 'string' ? payload.text : '';
  // Blocks that are no list are refused as such further on.
  const hasBlocks = Array.isArray(payload.blocks) ? payload.blocks.length > 0 : payload.blocks !== undefined;
  if (text.trim() === '' && !hasBlocks) {
    return [{ error: 'no_text', pointer: '/text', message: 'no message text provided' }];
  }
  if (use === 'update' && text.length > limits.updateText) {
    const message = `must be less than ${limits.updateText + 1} characters`;
    return [{ error: 'msg_too_long', pointer: '/text', message }];
  }
  return [];
}

function checkBlocks(given: unknown): readonly Problem[] {
  if (given === undefined) return [];
  if (!Array.isArray(given)) {
    return [{ error: 'invalid_blocks_format', pointer: '/blocks', message: 'must be an array' }];
  }
  const checked = Blocks.safeParse(given, { reportInput: true });
  if (!checked.success) return problemsOf(ERROR, checked.error.issues, ['blocks']);
  const blocks = objectsIn(given);
  const tables = blocks.filter((block) => block['type'] === 'table');
  const together = [
    ...repeatedIds(ERROR, blocks, ['blocks']),
    ...(tables.length > 1 ? [{ error: ERROR, pointer: '/blocks', message: 'only one table allowed' }] : []),
  ];
  // A table has a budget of its own.
  const plain = blocks.filter((block) => block['type'] !== 'table');
  if (together.length > 0 || textLength(plain) <= limits.blocksText) return together;
  const message = `must hold less than ${limits.blocksText + 1} characters of text`;
  return [{ error: 'msg_blocks_too_long', pointer: '/blocks', message }];
}

function checkMetadata(metadata: unknown): Problem[] {
  if (metadata === undefined || isEmptyObject(metadata)) return [];
  const checked = Metadata.safeParse(metadata, { reportInput: true });
  if (!checked.success) return problemsOf('invalid_metadata_schema', checked.error.issues, ['metadata']);
  if (Buffer.byteLength(JSON.stringify(metadata)) <= limits.metadataBytes) return [];
  const message = `must be less than ${limits.metadataBytes + 1} bytes`;
  return [{ error: 'metadata_too_large', pointer: '/metadata', message }];
}

function isEmptyObject(value: unknown): boolean {
  return typeof value === 'object' && value !== null && Object.keys(value).length === 0;
}

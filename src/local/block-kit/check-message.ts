import { z } from 'zod';
import { JsonObject } from '../api-types.js';
import { markdownTotal, oneFocus, oneTable, repeatedIds } from './across-blocks.js';
import { MessageBlock } from './blocks.js';
import { limits } from './limits.js';
import { type Problem, problemsOf } from './problems.js';
import { objectsIn, textLength } from './walk.js';

const ERROR = 'invalid_blocks';
const Blocks = z.array(MessageBlock).max(limits.messageBlocks);
const Metadata = z.strictObject({
  event_type: z.string().min(1).max(limits.id),
  event_payload: JsonObject,
});

/** The parts of a message that Slack limits; anything else in the payload is left alone. */
export type MessagePayload = {
  readonly text?: unknown;
  readonly markdown_text?: unknown;
  readonly blocks?: unknown;
  readonly attachments?: unknown;
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
  const markdown = typeof payload.markdown_text === 'string' ? payload.markdown_text : '';
  // Blocks that are no list are refused as such further on.
  const blocks = Array.isArray(payload.blocks) ? payload.blocks.length : payload.blocks === undefined ? 0 : 1;
  const attachments = Array.isArray(payload.attachments) ? payload.attachments.length : 0;
  if (markdown !== '' && (text !== '' || blocks > 0)) {
    return [problem('markdown_text_conflict', '/markdown_text', 'cannot be used with text or blocks')];
  }
  if (text.trim() === '' && markdown === '' && blocks === 0 && attachments === 0) {
    return [problem('no_text', '/text', 'no message text provided')];
  }
  if (use === 'update' && text.length > limits.updateText) {
    return [problem('msg_too_long', '/text', `must be less than ${limits.updateText + 1} characters`)];
  }
  if (markdown.length > limits.markdownText) {
    return [
      problem('msg_too_long', '/markdown_text', `must be less than ${limits.markdownText + 1} characters`),
    ];
  }
  if (attachments > limits.attachments) {
    return [
      problem('too_many_attachments', '/attachments', `no more than ${limits.attachments} items allowed`),
    ];
  }
  return [];
}

function checkBlocks(given: unknown): readonly Problem[] {
  if (given === undefined) return [];
  if (!Array.isArray(given)) return [problem('invalid_blocks_format', '/blocks', 'must be an array')];
  const checked = Blocks.safeParse(given, { reportInput: true });
  if (!checked.success) return problemsOf(ERROR, checked.error.issues, ['blocks']);
  const blocks = objectsIn(given);
  const together = [
    ...repeatedIds(ERROR, blocks, ['blocks']),
    ...markdownTotal(ERROR, blocks),
    ...oneTable(ERROR, blocks),
    ...oneFocus(ERROR, blocks),
  ];
  if (together.length > 0) return together;
  // Tables and markdown have budgets of their own.
  const plain = blocks.filter(
    (block) => !['table', 'data_table', 'markdown'].includes(String(block['type'])),
  );
  return textLength(plain) > limits.blocksText
    ? [
        problem(
          'msg_blocks_too_long',
          '/blocks',
          `must hold less than ${limits.blocksText + 1} characters of text`,
        ),
      ]
    : [];
}

function checkMetadata(metadata: unknown): Problem[] {
  if (metadata === undefined || isEmptyObject(metadata)) return [];
  const checked = Metadata.safeParse(metadata, { reportInput: true });
  if (!checked.success) return problemsOf('invalid_metadata_schema', checked.error.issues, ['metadata']);
  return Buffer.byteLength(JSON.stringify(metadata)) > limits.metadataBytes
    ? [problem('metadata_too_large', '/metadata', `must be less than ${limits.metadataBytes + 1} bytes`)]
    : [];
}

function isEmptyObject(value: unknown): boolean {
  return typeof value === 'object' && value !== null && Object.keys(value).length === 0;
}

function problem(error: string, pointer: string, message: string): Problem {
  return { error, pointer, message };
}

import { z } from 'zod';
import type { Message } from '../../local/api-types.js';

const Text = z.object({ text: z.string() });
const Block = z.looseObject({
  type: z.string(),
  text: z.union([z.string(), Text]).optional(),
  elements: z.array(z.looseObject({ text: z.union([z.string(), Text]).optional() })).optional(),
  accessory: z.looseObject({ text: Text.optional() }).optional(),
  alt_text: z.string().optional(),
});

/** A message as a person reads it: text, lists, [buttons], (small print), and what a picture says. */
export function readAloud(message: Message, names: ReadonlyMap<string, string>): readonly string[] {
  const blocks = readBlocks(message.blocks ?? [], names);
  const reactions = message.reactions.map((reaction) => `:${reaction.name}:`).join(' ');
  const files = message.files.map((file) => `(file: ${file.name})`);
  return [
    ...(blocks.length > 0 ? blocks : plainLines(message.text, names)),
    ...files,
    ...(reactions ? [reactions] : []),
  ];
}

/** The blocks of a message or form, as a person reads them. */
export function readBlocks(blocks: unknown, names: ReadonlyMap<string, string>): readonly string[] {
  const read = z.array(Block).safeParse(blocks);
  return (read.data ?? []).flatMap(blockLines).flatMap((line) => plainLines(line, names));
}

function blockLines(block: z.output<typeof Block>): readonly string[] {
  const text = textOf(block.text);
  switch (block.type) {
    case 'header':
      return [text, '─'.repeat(Math.min(text.length, 60))];
    case 'context':
      return [(block.elements ?? []).map((element) => textOf(element.text)).join(' · ')].map(
        (line) => `(${line})`,
      );
    case 'actions':
      return [(block.elements ?? []).map((element) => `[ ${textOf(element.text)} ]`).join(' ')];
    case 'divider':
      return [''];
    case 'image':
      return [`(picture: ${block.alt_text ?? ''})`];
    case 'section':
      return [block.accessory?.text ? `${text}  [ ${block.accessory.text.text} ]` : text];
    default:
      return text ? [text] : [];
  }
}

function textOf(text: string | { readonly text: string } | undefined): string {
  return typeof text === 'string' ? text : (text?.text ?? '');
}

function plainLines(line: string, names: ReadonlyMap<string, string>): readonly string[] {
  return line
    .replace(/<@([A-Z0-9]+)(?:\|[^>]*)?>/g, (_, id: string) => `@${names.get(id) ?? id}`)
    .replace(/<#([A-Z0-9]+)(?:\|[^>]*)?>/g, (_, id: string) => `#${names.get(id) ?? id}`)
    .replaceAll('\u2060', '')
    .replace(/\*([^*\n]+)\*/g, '$1')
    .replace(/(^|\s)_([^_\n]+)_(?=\s|$)/g, '$1$2')
    .replaceAll('&lt;', '<')
    .replaceAll('&gt;', '>')
    .replaceAll('&amp;', '&')
    .split('\n');
}

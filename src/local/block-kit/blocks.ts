/** Which blocks a message and which a form or home tab may hold: those that a bot of this kind sends. */
import { z } from 'zod';
import { Accessory, ActionsElement, InputElement } from './elements.js';
import { limits } from './limits.js';
import { anyText, Id, ImageBlock, ImageElement, plainText } from './objects.js';

const Section = z
  .strictObject({
    type: z.literal('section'),
    block_id: Id,
    text: anyText(limits.text).optional(),
    fields: z.array(anyText(limits.sectionField)).min(1).max(limits.sectionFields).optional(),
    accessory: Accessory.optional(),
  })
  .refine((block) => block.text !== undefined || block.fields !== undefined, {
    path: ['text'],
    message: 'must provide either text or fields',
  });

const Header = z.strictObject({
  type: z.literal('header'),
  block_id: Id,
  text: plainText(limits.header),
});

const Divider = z.strictObject({ type: z.literal('divider'), block_id: Id });

const Context = z.strictObject({
  type: z.literal('context'),
  block_id: Id,
  elements: z
    .array(z.discriminatedUnion('type', [ImageElement, ...anyText(limits.text).options]))
    .min(1)
    .max(limits.contextElements),
});

const Actions = z.strictObject({
  type: z.literal('actions'),
  block_id: Id,
  elements: z.array(ActionsElement).min(1).max(limits.actionsElements),
});

const Input = z.strictObject({
  type: z.literal('input'),
  block_id: Id,
  label: plainText(limits.inputLabel),
  hint: plainText(limits.inputLabel).optional(),
  optional: z.boolean().optional(),
  element: InputElement,
});

const Style = z
  .strictObject({
    bold: z.boolean().optional(),
    italic: z.boolean().optional(),
    strike: z.boolean().optional(),
    code: z.boolean().optional(),
  })
  .optional();

const RichElement = z.discriminatedUnion('type', [
  z.strictObject({ type: z.literal('text'), text: z.string().min(1), style: Style }),
  z.strictObject({
    type: z.literal('link'),
    url: z.string().min(1),
    text: z.string().optional(),
    style: Style,
  }),
  z.strictObject({ type: z.literal('user'), user_id: z.string().min(1), style: Style }),
  z.strictObject({ type: z.literal('emoji'), name: z.string().min(1) }),
]);

const Cell = z.discriminatedUnion('type', [
  z.strictObject({ type: z.literal('raw_text'), text: z.string().min(1) }),
  z.strictObject({ type: z.literal('raw_number'), value: z.number(), text: z.string().min(1) }),
  z.strictObject({
    type: z.literal('rich_text'),
    elements: z
      .array(z.strictObject({ type: z.literal('rich_text_section'), elements: z.array(RichElement) }))
      .min(1),
  }),
]);

function cellLength(cell: z.infer<typeof Cell>): number {
  return cell.type === 'rich_text' ? JSON.stringify(cell.elements).length : cell.text.length;
}

const Table = z.strictObject({
  type: z.literal('table'),
  block_id: Id,
  rows: z
    .array(z.array(Cell).min(1).max(limits.tableCells))
    .min(1)
    .max(limits.tableRows)
    .refine(
      (rows) => rows.flat().reduce((sum, cell) => sum + cellLength(cell), 0) <= limits.tableText,
      `must hold less than ${limits.tableText + 1} characters in all`,
    ),
  column_settings: z
    .array(
      z.strictObject({
        align: z.enum(['left', 'center', 'right']).optional(),
        is_wrapped: z.boolean().optional(),
      }),
    )
    .max(limits.tableCells)
    .optional(),
});

export const ViewBlock = z.discriminatedUnion('type', [
  Section,
  Header,
  Divider,
  Context,
  Actions,
  ImageBlock,
  Input,
]);
export const MessageBlock = z.discriminatedUnion('type', [...ViewBlock.options, Table]);

/** The `rich_text` block: sections, lists, quotes and preformatted text. */
import { z } from 'zod';
import { BlockId } from './objects.js';

const style = {
  style: z
    .strictObject({
      bold: z.boolean().optional(),
      italic: z.boolean().optional(),
      strike: z.boolean().optional(),
      code: z.boolean().optional(),
      underline: z.boolean().optional(),
    })
    .optional(),
};

const Text = z.strictObject({ type: z.literal('text'), text: z.string().min(1), ...style });
const Link = z.strictObject({
  type: z.literal('link'),
  url: z.string().min(1),
  text: z.string().optional(),
  unsafe: z.boolean().optional(),
  ...style,
});

const Inline = z.discriminatedUnion('type', [
  Text,
  Link,
  z.strictObject({ type: z.literal('user'), user_id: z.string().min(1), ...style }),
  z.strictObject({ type: z.literal('channel'), channel_id: z.string().min(1), ...style }),
  z.strictObject({ type: z.literal('usergroup'), usergroup_id: z.string().min(1), ...style }),
  z.strictObject({ type: z.literal('team'), team_id: z.string().min(1), ...style }),
  z.strictObject({ type: z.literal('broadcast'), range: z.enum(['here', 'channel', 'everyone']), ...style }),
  z.strictObject({ type: z.literal('color'), value: z.string().min(1), ...style }),
  z.strictObject({
    type: z.literal('emoji'),
    name: z.string().min(1),
    unicode: z.string().optional(),
    url: z.string().optional(),
    ...style,
  }),
  z.strictObject({
    type: z.literal('date'),
    timestamp: z.number().int(),
    format: z.string().min(1),
    url: z.string().optional(),
    fallback: z.string().optional(),
    ...style,
  }),
]);

const border = { border: z.union([z.literal(0), z.literal(1)]).optional() };
const Section = z.strictObject({ type: z.literal('rich_text_section'), elements: z.array(Inline) });

export const RichText = z.strictObject({
  type: z.literal('rich_text'),
  block_id: BlockId,
  elements: z
    .array(
      z.discriminatedUnion('type', [
        Section,
        z.strictObject({
          type: z.literal('rich_text_list'),
          style: z.enum(['bullet', 'ordered']),
          elements: z.array(Section).min(1),
          indent: z.number().int().min(0).optional(),
          offset: z.number().int().min(0).optional(),
          ...border,
        }),
        z.strictObject({ type: z.literal('rich_text_quote'), elements: z.array(Inline), ...border }),
        z.strictObject({
          type: z.literal('rich_text_preformatted'),
          elements: z.array(z.discriminatedUnion('type', [Text, Link])),
          ...border,
        }),
      ]),
    )
    .min(1),
});

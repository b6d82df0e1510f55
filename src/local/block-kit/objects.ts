/** Composition objects: text, options, confirmation, images, and the ids that blocks and elements carry. */
import { z } from 'zod';
import { limits } from './limits.js';

/** A `plain_text` object of 1 to `max` characters. */
export function plainText(max: number) {
  return z.strictObject({
    type: z.literal('plain_text'),
    text: z.string().min(1).max(max),
    emoji: z.boolean().optional(),
  });
}

/** A text object of either kind, 1 to `max` characters. */
export function anyText(max: number) {
  const mrkdwn = z.strictObject({
    type: z.literal('mrkdwn'),
    text: z.string().min(1).max(max),
    verbatim: z.boolean().optional(),
  });
  return z.discriminatedUnion('type', [plainText(max), mrkdwn]);
}

/** A `block_id` or an `action_id`. */
export const Id = z.string().min(1).max(limits.id).optional();
export const Placeholder = plainText(limits.placeholder).optional();
const Url = z.string().min(1).max(limits.url);

export const Confirm = z
  .strictObject({
    title: plainText(limits.confirmTitle).optional(),
    text: anyText(limits.confirmText),
    confirm: plainText(limits.confirmButton).optional(),
    deny: plainText(limits.confirmButton).optional(),
    style: z.enum(['primary', 'danger']).optional(),
  })
  .optional();

export const Option = z.strictObject({
  text: anyText(limits.optionText),
  value: z.string().min(1).max(limits.optionText),
  description: anyText(limits.optionText).optional(),
});

export const PlainOption = Option.extend({
  text: plainText(limits.optionText),
  description: plainText(limits.optionText).optional(),
});

const Picture = z.strictObject({
  type: z.literal('image'),
  alt_text: z.string().min(1).max(limits.altText),
  image_url: Url.optional(),
  slack_file: z.strictObject({ id: z.string().min(1) }).optional(),
});

function hasOneSource({ image_url, slack_file }: z.infer<typeof Picture>): boolean {
  return (image_url === undefined) !== (slack_file === undefined);
}
const ONE_SOURCE = 'must provide either image_url or slack_file';

export const ImageElement = Picture.refine(hasOneSource, ONE_SOURCE);
export const ImageBlock = Picture.extend({
  block_id: Id,
  title: plainText(limits.altText).optional(),
}).refine(hasOneSource, ONE_SOURCE);

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

function mrkdwn(max: number) {
  return z.strictObject({
    type: z.literal('mrkdwn'),
    text: z.string().min(1).max(max),
    verbatim: z.boolean().optional(),
  });
}

/** A text object of either kind, 1 to `max` characters. */
export function anyText(max: number) {
  return z.discriminatedUnion('type', [plainText(max), mrkdwn(max)]);
}

export const mrkdwnText = mrkdwn;
export const BlockId = z.string().min(1).max(limits.id).optional();
export const ActionId = z.string().min(1).max(limits.id).optional();
export const Placeholder = plainText(limits.placeholder).optional();
export const Url = z.string().min(1).max(limits.url);

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

export const PlainOption = z.strictObject({
  text: plainText(limits.optionText),
  value: z.string().min(1).max(limits.optionText),
  description: plainText(limits.optionText).optional(),
});

const SlackFile = z.union([
  z.strictObject({ id: z.string().min(1) }),
  z.strictObject({ url: z.string().min(1) }),
]);

/** The two ways to point at a picture; exactly one must be given. */
export const imageSource = { image_url: Url.optional(), slack_file: SlackFile.optional() };

/** Refuses a picture with no source or with two. */
export function hasOneSource(image: {
  readonly image_url?: string | undefined;
  readonly slack_file?: unknown;
}): boolean {
  return (image.image_url === undefined) !== (image.slack_file === undefined);
}

export const ONE_SOURCE = 'must provide either image_url or slack_file';

export const ImageElement = z
  .strictObject({
    type: z.literal('image'),
    alt_text: z.string().min(1).max(limits.altText),
    ...imageSource,
  })
  .refine(hasOneSource, ONE_SOURCE);

/** The newer blocks: alert, card, carousel, container, video, plan and task card. */
import { z } from 'zod';
import { Button } from './elements.js';
import { limits } from './limits.js';
import { anyText, BlockId, ImageElement, mrkdwnText, plainText, Url } from './objects.js';
import { RichText } from './rich-text.js';

export const Alert = z.strictObject({
  type: z.literal('alert'),
  block_id: BlockId,
  text: anyText(limits.alertText),
  level: z.enum(['default', 'info', 'warning', 'error', 'success']).optional(),
});

export const Card = z.strictObject({
  type: z.literal('card'),
  block_id: BlockId,
  hero_image: ImageElement.optional(),
  icon: ImageElement.optional(),
  title: mrkdwnText(limits.cardTitle).optional(),
  subtitle: mrkdwnText(limits.cardTitle).optional(),
  body: mrkdwnText(limits.cardBody).optional(),
  subtext: mrkdwnText(limits.cardBody).optional(),
  actions: z.array(Button).max(limits.cardButtons).optional(),
});

export const Carousel = z.strictObject({
  type: z.literal('carousel'),
  block_id: BlockId,
  elements: z.array(Card).min(1).max(limits.carouselCards),
});

export const Video = z.strictObject({
  type: z.literal('video'),
  block_id: BlockId,
  video_url: Url,
  thumbnail_url: Url,
  alt_text: z.string().min(1).max(limits.altText),
  title: plainText(limits.videoTitle),
  title_url: Url.optional(),
  author_name: z.string().max(limits.videoAuthor).optional(),
  provider_name: z.string().optional(),
  provider_icon_url: Url.optional(),
  description: plainText(limits.videoTitle).optional(),
});

export const TaskCard = z.strictObject({
  type: z.literal('task_card'),
  block_id: BlockId,
  task_id: z.string().min(1),
  title: z.string().min(1),
  details: RichText.optional(),
  output: RichText.optional(),
  sources: z.array(z.strictObject({ type: z.literal('url'), url: Url, text: z.string().min(1) })).optional(),
  status: z.enum(['pending', 'in_progress', 'complete', 'error']),
});

export const Plan = z.strictObject({
  type: z.literal('plan'),
  block_id: BlockId,
  title: z.string().min(1),
  tasks: z.array(TaskCard).max(limits.planTasks).optional(),
});

/** A container around the given child blocks. */
export function containerOf<T extends z.ZodType>(child: T) {
  return z
    .strictObject({
      type: z.literal('container'),
      block_id: BlockId,
      title: plainText(limits.containerTitle).optional(),
      rich_text_title: RichText.optional(),
      subtitle: anyText(limits.containerTitle).optional(),
      child_blocks: z.array(child).min(1).max(limits.containerChildren),
      width: z.enum(['narrow', 'standard', 'wide', 'full']).optional(),
      icon: ImageElement.optional(),
      is_collapsible: z.boolean().optional(),
      default_collapsed: z.boolean().optional(),
      has_header_divider: z.boolean().optional(),
    })
    .refine(
      (block) => !(block.title && block.rich_text_title),
      'must not have both title and rich_text_title',
    );
}

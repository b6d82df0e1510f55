/** Which blocks a message and which a form or home tab may hold. */
import { z } from 'zod';
import { Alert, Card, Carousel, containerOf, Plan, TaskCard, Video } from './cards.js';
import { Accessory, ActionsElement, ContextActionsElement, InputElement } from './elements.js';
import { limits } from './limits.js';
import {
  anyText,
  BlockId,
  hasOneSource,
  ImageElement,
  imageSource,
  ONE_SOURCE,
  plainText,
} from './objects.js';
import { RichText } from './rich-text.js';
import { DataTable, Table } from './tables.js';

const Section = z
  .strictObject({
    type: z.literal('section'),
    block_id: BlockId,
    text: anyText(limits.text).optional(),
    fields: z.array(anyText(limits.sectionField)).min(1).max(limits.sectionFields).optional(),
    accessory: Accessory.optional(),
    expand: z.boolean().optional(),
  })
  .refine((block) => block.text !== undefined || block.fields !== undefined, {
    path: ['text'],
    message: 'must provide either text or fields',
  });

const Header = z.strictObject({
  type: z.literal('header'),
  block_id: BlockId,
  text: plainText(limits.header),
  level: z.number().int().min(1).max(6).optional(),
});

const Divider = z.strictObject({ type: z.literal('divider'), block_id: BlockId });

const Context = z.strictObject({
  type: z.literal('context'),
  block_id: BlockId,
  elements: z
    .array(z.discriminatedUnion('type', [ImageElement, ...anyText(limits.text).options]))
    .min(1)
    .max(limits.contextElements),
});

const Actions = z.strictObject({
  type: z.literal('actions'),
  block_id: BlockId,
  elements: z.array(ActionsElement).min(1).max(limits.actionsElements),
});

const ContextActions = z.strictObject({
  type: z.literal('context_actions'),
  block_id: BlockId,
  elements: z.array(ContextActionsElement).min(1).max(limits.contextActionsElements),
});

const Image = z
  .strictObject({
    type: z.literal('image'),
    block_id: BlockId,
    alt_text: z.string().min(1).max(limits.altText),
    title: plainText(limits.altText).optional(),
    ...imageSource,
  })
  .refine(hasOneSource, ONE_SOURCE);

const Input = z.strictObject({
  type: z.literal('input'),
  block_id: BlockId,
  label: plainText(limits.inputLabel),
  hint: plainText(limits.inputLabel).optional(),
  optional: z.boolean().optional(),
  dispatch_action: z.boolean().optional(),
  element: InputElement,
});

const Markdown = z.strictObject({
  type: z.literal('markdown'),
  block_id: BlockId,
  text: z.string().min(1).max(limits.markdownText),
});

const everywhere = [Section, Header, Divider, Context, Actions, Image, Input, RichText, Video] as const;

const Container = containerOf(z.discriminatedUnion('type', [...everywhere, Table]));

/**
 * `data_visualization` is refused: its shape is not in Slack's published types, so that nothing could be
 * promised about a chart that passed here. `file` blocks are read only in Slack.
 */
export const MessageBlock = z.discriminatedUnion('type', [
  ...everywhere,
  Card,
  Table,
  DataTable,
  Markdown,
  ContextActions,
  Carousel,
  Container,
  TaskCard,
  Plan,
]);

export const ViewBlock = z.discriminatedUnion('type', [...everywhere, Card, Alert]);
export const HomeBlock = z.discriminatedUnion('type', [...everywhere, Card]);

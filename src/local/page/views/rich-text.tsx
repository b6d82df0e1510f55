import type { RichTextBlock, RichTextElement, RichTextSection } from '@slack/types';
import { workspaceNow, zone } from '../store.js';
import { emojiOrName } from '../text/emoji.js';
import { writeDate } from '../text/time.js';
import { h, type VNode } from '../vendor/preact.js';
import { ChannelMark, PersonMark, SafeLink } from './words.js';

type Part = RichTextBlock['elements'][number];

export function RichText({ block }: { readonly block: RichTextBlock }) {
  return <div class="words">{block.elements.map(drawPart)}</div>;
}

function drawPart(part: Part): VNode {
  switch (part.type) {
    case 'rich_text_section':
      return <p>{part.elements.map(drawElement)}</p>;
    case 'rich_text_quote':
      return <blockquote>{part.elements.map(drawElement)}</blockquote>;
    case 'rich_text_preformatted':
      return <pre>{part.elements.map(drawElement)}</pre>;
    case 'rich_text_list':
      return drawList(part.style, part.indent ?? 0, part.elements);
  }
}

function drawList(style: 'bullet' | 'ordered', indent: number, items: readonly RichTextSection[]): VNode {
  const lines = items.map((item) => <li>{item.elements.map(drawElement)}</li>);
  const className = `indent-${Math.min(indent, 4)}`;
  return style === 'ordered' ? <ol class={className}>{lines}</ol> : <ul class={className}>{lines}</ul>;
}

function drawElement(element: RichTextElement): VNode | string {
  switch (element.type) {
    case 'text':
      return styled(element.text, element.style);
    case 'link':
      return <SafeLink href={element.url} label={element.text ?? element.url} />;
    case 'emoji':
      return emojiOrName(element.name);
    case 'user':
      return <PersonMark id={element.user_id} />;
    case 'channel':
      return <ChannelMark id={element.channel_id} />;
    case 'broadcast':
      return <span class="mark">@{element.range}</span>;
    case 'date':
      return <span>{writeDate(element.format, element.timestamp, workspaceNow(), zone())}</span>;
    case 'color':
      return <code>{element.value}</code>;
    default:
      return '';
  }
}

type Style = Extract<RichTextElement, { type: 'text' }>['style'];

function styled(text: string, style: Style): VNode | string {
  let drawn: VNode | string = withBreaks(text);
  if (style?.code) drawn = <code>{drawn}</code>;
  if (style?.strike) drawn = <s>{drawn}</s>;
  if (style?.italic) drawn = <em>{drawn}</em>;
  if (style?.bold) drawn = <strong>{drawn}</strong>;
  return drawn;
}

function withBreaks(text: string): VNode | string {
  if (!text.includes('\n')) return text;
  return <span class="lines">{text}</span>;
}

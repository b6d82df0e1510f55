import type { MrkdwnElement, PlainTextElement } from '@slack/types';
import { botName, getState, workspaceNow, zone } from '../store.js';
import { withEmoji } from '../text/emoji.js';
import { type Inline, type Passage, parseMrkdwn } from '../text/mrkdwn.js';
import { writeDate } from '../text/time.js';
import { h, type VNode } from '../vendor/preact.js';

/** mrkdwn, drawn. Foreign text only ever becomes text nodes. */
export function Mrkdwn({ text }: { readonly text: string }) {
  return <div class="words">{parseMrkdwn(text).map(drawPassage)}</div>;
}

/** A text object of either kind. */
export function Words({ of }: { readonly of: MrkdwnElement | PlainTextElement }) {
  return of.type === 'mrkdwn' ? <Mrkdwn text={of.text} /> : <span>{plainWords(of)}</span>;
}

/** Plain text with its shortcodes turned into characters. */
export function plainWords(of: { readonly text: string; readonly emoji?: boolean | undefined }): string {
  if (of.emoji === false) return of.text;
  return withEmoji(of.text);
}

function drawPassage(passage: Passage): VNode {
  switch (passage.kind) {
    case 'fence':
      return <pre>{passage.text}</pre>;
    case 'quote':
      return <blockquote>{passage.children.map(drawInline)}</blockquote>;
    default:
      return <p>{passage.children.map(drawInline)}</p>;
  }
}

function drawInline(piece: Inline): VNode | string {
  switch (piece.kind) {
    case 'text':
      return piece.text;
    case 'break':
      return <br />;
    case 'bold':
      return <strong>{piece.children.map(drawInline)}</strong>;
    case 'italic':
      return <em>{piece.children.map(drawInline)}</em>;
    case 'strike':
      return <s>{piece.children.map(drawInline)}</s>;
    case 'code':
      return <code>{piece.text}</code>;
    case 'link':
      return <SafeLink href={piece.href} label={piece.label} />;
    case 'person':
      return <PersonMark id={piece.id} label={piece.label} />;
    case 'channel':
      return <ChannelMark id={piece.id} label={piece.label} />;
    case 'broadcast':
      return <span class="mark">@{piece.name}</span>;
    case 'date':
      return <span>{writeDate(piece.format, piece.unix, workspaceNow(), zone())}</span>;
  }
}

/** A link that can only lead to the web, to mail or to a file of this workspace. */
function SafeLink({ href, label }: { readonly href: string; readonly label: string }) {
  if (!/^(?:https?:\/\/|mailto:|\/local\/)/.test(href)) return <span>{label}</span>;
  return (
    <a href={href} target="_blank" rel="noopener noreferrer">
      {label}
    </a>
  );
}

function PersonMark({ id, label = null }: { readonly id: string; readonly label?: string | null }) {
  const { workspace, route } = getState();
  const person = workspace?.people.find((one) => one.id === id);
  const isMe = person !== undefined && person.name === route.handle;
  const isBot = workspace?.bot.userId === id;
  const name = isBot ? botName() : (person?.realName ?? label ?? id);
  return <span class={isMe ? 'mark mark-me' : 'mark'}>@{name}</span>;
}

function ChannelMark({ id, label = null }: { readonly id: string; readonly label?: string | null }) {
  const channel = getState().workspace?.channels.find((one) => one.id === id);
  return <span class="mark">#{channel?.name ?? label ?? id}</span>;
}

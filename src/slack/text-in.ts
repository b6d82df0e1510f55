import { withoutUnseen } from '../kit/escape.js';

/**
 * Text as Slack sends it, turned into text as people see it: entities decoded exactly once, links and
 * broadcasts to their words, control characters gone. People and channels stay `<@U…>` and `<#C…>`, which is how commands name them.
 */
export function decodeText(text: string): string {
  return withoutUnseen(text)
    .replace(/<([@#!]?)([^<>|]*)(?:\|([^<>]*))?>/g, (_, sigil: string, target: string, label?: string) =>
      decodeForm(sigil, target, label),
    )
    .replaceAll('&lt;', '<')
    .replaceAll('&gt;', '>')
    .replaceAll('&amp;', '&');
}

function decodeForm(sigil: string, target: string, label: string | undefined): string {
  if (sigil === '@' || sigil === '#') return `<${sigil}${target}>`;
  if (sigil === '!') return label ?? `@${target.split('^')[0] ?? ''}`;
  return label ?? target.replace(/^mailto:/, '');
}

/** The words after a leading mention of somebody, or null when the text does not begin with one. */
export function afterMention(text: string): { readonly mentioned: string; readonly words: string } | null {
  const match = /^\s*<@([A-Z0-9]+)(?:\|[^>]*)?>[\s,:]*([\s\S]*)$/.exec(text);
  return match?.[1] ? { mentioned: match[1], words: match[2]?.trim() ?? '' } : null;
}

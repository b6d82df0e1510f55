import { withoutUnseen } from '../../kit/escape.js';

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

/** The words said to somebody: the mention of them at the start (or end) taken off. */
export function wordsWithoutMention(text: string, person: string): string {
  const mention = `<@${person}(?:\\|[^>]*)?>`;
  return text
    .replaceAll('\u00a0', ' ')
    .trim()
    .replace(new RegExp(`^${mention}[\\s,:]*|\\s*${mention}$`, 'g'), '')
    .trim();
}

import type { Token } from './token.js';

/**
 * Takes away words that are not the taster's claim: struck through (`~lemon~`) and quoted from someone else
 * (a line that begins with `>`). They become opaque, so spans of the others stay as they are.
 */
export function withdrawWords(source: string, tokens: readonly Token[]): readonly Token[] {
  if (!source.includes('~') && !source.includes('>') && !source.includes('&gt;')) return tokens;
  const kept = [...tokens];
  let struckFrom = -1;
  let quoted = false;
  for (const [i, token] of tokens.entries()) {
    const lineStart = i === 0 || tokens[i - 1]?.kind === 'break';
    if (token.kind === 'break') {
      struckFrom = -1;
      quoted = false;
    } else if (lineStart && token.text === '>') quoted = true;
    if (quoted) kept[i] = hide(token);
    if (token.text !== '~') continue;
    const closes = struckFrom >= 0 && tokens[i - 1]?.end === token.start && i > struckFrom + 1;
    if (closes) {
      for (let j = struckFrom; j <= i; j += 1) kept[j] = hide(tokens[j] ?? token);
      struckFrom = -1;
    } else if (tokens[i + 1]?.start === token.end) struckFrom = struckFrom < 0 ? i : struckFrom;
  }
  return kept;
}

function hide(token: Token): Token {
  return { ...token, kind: 'opaque', text: '' };
}

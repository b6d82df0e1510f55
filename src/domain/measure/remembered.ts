/**
 * Remembers what was worked out for a text, for work that costs more than looking at the text again. When it holds
 * `most` answers it begins anew, so that it never grows without end.
 */
export function remembered<T>(most: number): (text: string, workOut: () => T) => T {
  const known = new Map<string, { readonly answer: T }>();
  return (text, workOut) => {
    const held = known.get(text);
    if (held) return held.answer;
    const answer = workOut();
    if (known.size >= most) known.clear();
    known.set(text, { answer });
    return answer;
  };
}

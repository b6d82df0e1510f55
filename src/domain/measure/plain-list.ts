/** "Chirinos", "Chirinos and Kayanza Hill", "Chirinos, Kayanza Hill and Nubosa Natural". */
export function plainList(words: readonly string[], last = 'and'): string {
  if (words.length < 2) return words[0] ?? '';
  return `${words.slice(0, -1).join(', ')} ${last} ${words.at(-1) ?? ''}`;
}

/** "1 day", "3 days". */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}

/** "Lemon" from "lemon". */
export function capitalised(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

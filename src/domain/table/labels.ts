/** Letters for cups in table order: A, B … Z, then AA, AB … */
export function cupLabel(position: number): string {
  const letter = String.fromCharCode(65 + (position % 26));
  return position < 26 ? letter : `${cupLabel(Math.floor(position / 26) - 1)}${letter}`;
}

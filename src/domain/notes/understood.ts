import type { Mention, Reading } from './reading.js';

/**
 * The sentence that shows a taster what was understood, cup by cup: "I read: C — lemon (slight), black tea;
 * not sour". Null when nothing was.
 */
export function understoodSentence(reading: Reading): string | null {
  const byCup = new Map<string | null, Mention[]>();
  for (const mention of reading.mentions)
    byCup.set(mention.cup, [...(byCup.get(mention.cup) ?? []), mention]);
  const parts = [...byCup].map(
    ([cup, mentions]) => (cup === null ? '' : `${cup} — `) + sayMentions(mentions),
  );
  if (reading.order !== null && reading.order.length > 0) parts.push(sayOrder(reading.order));
  for (const cup of reading.worst) parts.push(`worst ${cup}`);
  for (const [cup, liking] of Object.entries(reading.liking)) parts.push(`${cup} liked ${liking} of 9`);
  return parts.length === 0 ? null : `I read: ${parts.join(' · ')}`;
}

/** Whether everything in the note that speaks of taste was understood, and there was something. */
export function isWhollyUnderstood(reading: Reading): boolean {
  const something =
    reading.mentions.length > 0 ||
    reading.order !== null ||
    reading.worst.length > 0 ||
    Object.keys(reading.liking).length > 0;
  return something && reading.unplaced.length === 0 && !reading.needsCup;
}

function sayMentions(mentions: readonly Mention[]): string {
  const present = mentions.filter(({ polarity }) => polarity !== 'denied').map(sayMention);
  const denied = mentions
    .filter(({ polarity }) => polarity === 'denied')
    .map(({ attribute }) => `not ${attribute}`);
  return [present, denied]
    .filter((list) => list.length > 0)
    .map((list) => list.join(', '))
    .join('; ');
}

function sayMention({ attribute, polarity, degree, doubt }: Mention): string {
  const remarks: string[] = [];
  if (polarity === 'compared') remarks.push('beside another cup');
  else if (degree !== 'plain') remarks.push(degree);
  if (doubt) remarks.push('unsure');
  return remarks.length === 0 ? attribute : `${attribute} (${remarks.join(', ')})`;
}

function sayOrder(order: readonly (readonly string[])[]): string {
  if (order.length === 1) return `best ${order[0]?.join(' and ') ?? ''}`;
  return `order ${order.map((group) => group.join(' = ')).join(' > ')}`;
}

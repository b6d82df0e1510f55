import type { Measures, Score } from './notes-score.js';

/** A score as a table to read: each family, all together, polarity, cups, and the worst lines. */
export function scoreText(score: Score): string {
  const rows = Object.entries(score.families).map(([family, measures]) => row(family, measures));
  const lines = [
    `${score.notes} notes`,
    `${'family'.padEnd(20)} precision  recall     F1   (right, extra, missed)`,
    ...rows,
    row('all', score.overall),
    `polarity accuracy ${score.polarityAccuracy.toFixed(4)}`,
    `cup assignment ${score.cupAccuracy === null ? 'not labelled' : score.cupAccuracy.toFixed(4)}`,
  ];
  if (score.worst.length > 0) lines.push('worst lines:');
  for (const { text, missed, extra } of score.worst) {
    lines.push(`  ${JSON.stringify(text)}`);
    if (missed.length > 0) lines.push(`    missed: ${missed.join(', ')}`);
    if (extra.length > 0) lines.push(`    extra: ${extra.join(', ')}`);
  }
  return `${lines.join('\n')}\n`;
}

function row(name: string, { precision, recall, f1, hit, extra, missed }: Measures): string {
  const figures = [precision, recall, f1].map((figure) => figure.toFixed(4).padStart(8)).join(' ');
  return `${name.padEnd(20)} ${figures}   (${hit}, ${extra}, ${missed})`;
}

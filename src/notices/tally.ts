import type { KnownBlock } from '@slack/types';
import type { TableResult } from '../domain/record/table-result.js';
import { cupContents } from '../domain/record/table-setting.js';
import { type Cup, cupName, tastingName } from '../domain/record/tasting.js';
import type { CupTally } from '../domain/tally/cup-tally.js';
import { context, header, section } from './blocks.js';
import { mrkdwn } from './escape.js';
import type { Message } from './message.js';
import { isHidden, type TableView } from './table-view.js';

const SHOWN = 4;

/** What most tasters share about each cup, as counts, then what sets it apart. Nobody is named. */
export function tallyMessage(view: TableView, result: TableResult): Message {
  const title = `Tally ${tastingName(view.tasting)} · ${view.recipe.name}`;
  const blocks: KnownBlock[] = [header(title)];
  const spoken: string[] = [];
  for (const cup of view.cups) {
    const tally = result.tally.cups.find((entry) => entry.cup === String(cup.id));
    const lines = cupLines(cup, view, result, tally);
    blocks.push(section(lines.join('\n')));
    spoken.push(
      `${cupName(cup)}: ${tally && tally.tasters > 0 ? topWords(tally).join(', ') || 'no word shared' : 'no notes'}`,
    );
  }
  blocks.push(
    context(
      `${result.notes} notes from ${result.tasters} tasters. Each taster counts once per word and cup; the latest word counts.`,
    ),
  );
  return { text: `${title}. ${spoken.join('. ')}.`, blocks: blocks.slice(0, 49) };
}

function cupLines(
  cup: Cup,
  view: TableView,
  result: TableResult,
  tally: CupTally | undefined,
): readonly string[] {
  const contents = isHidden(view) ? '' : ` · ${mrkdwn(cupContents(cup, view))}`;
  const head = `*${cupName(cup)}*${contents}`;
  if (!tally || tally.tasters === 0) return [head, 'No notes yet.'];
  const lines = [head, topWords(tally).join(' · ') || 'No word shared so far.'];
  const families = tally.families
    .filter((family) => family.tasters > 1 && family.attributes.length > 1)
    .slice(0, 2);
  if (families.length > 0)
    lines.push(
      `_${families.map((family) => `${family.name} ${family.tasters} of ${tally.tasters}`).join(' · ')}_`,
    );
  const denied = tally.attributes
    .filter((attribute) => attribute.denied > 0 && attribute.denied > attribute.tasters)
    .slice(0, 2);
  if (denied.length > 0)
    lines.push(
      `not ${denied.map((attribute) => `${attribute.attribute} (${attribute.denied})`).join(', not ')}`,
    );
  const apart = result.tally.setsApart.byCup.get(String(cup.id)) ?? [];
  if (apart.length > 0)
    lines.push(
      `Sets it apart: ${apart
        .slice(0, 3)
        .map((entry) => `${entry.direction} ${entry.attribute}`)
        .join(', ')}.`,
    );
  return lines;
}

/** "lemon 7 of 9", the most shared first; words of one person only when nothing is shared. */
function topWords(tally: CupTally): readonly string[] {
  const present = tally.attributes.filter((attribute) => attribute.tasters > 0);
  const shared = present.filter((attribute) => attribute.tasters > 1);
  return (shared.length > 0 ? shared : present)
    .slice(0, SHOWN)
    .map((attribute) => `${attribute.attribute} ${attribute.tasters} of ${tally.tasters}`);
}

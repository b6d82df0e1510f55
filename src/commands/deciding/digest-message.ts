import type { KnownBlock } from '@slack/types';
import type { ProductionNote } from '../../domain/production/production-note.js';
import { nextAtTable, type TableResult } from '../../domain/record/table-result.js';
import { tastingName } from '../../domain/record/tasting.js';
import { button, buttons, context, divider, header, section, sections } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import type { Message } from '../../kit/message.js';
import type { TableView } from '../common/table-view.js';
import { agreementSentence } from '../tallying/agreement-words.js';
import { briefLines } from '../tallying/brief-message.js';
import { nextWords } from '../tallying/suggest-message.js';
import {
  majoritySentences,
  ruleSentence,
  standingLines,
  standingsCaption,
  verdictSentence,
  verdictWords,
} from '../tallying/verdict-words.js';
import { productionLines } from './production-lines-message.js';
import { sayings } from './sayings-message.js';
import { settleSentences } from './settle-words.js';

export type DigestParts = {
  readonly view: TableView;
  readonly result: TableResult;
  /** Null when there is no winner. */
  readonly production: ProductionNote | null;
  /** Set when the host decided otherwise than the table. */
  readonly against: string | null;
  readonly remarks: string | null;
};

/** The digest: the winner and how sure, how the ratios stand, what to say, what to weigh, what to watch, what would settle it. */
export function digestMessage({ view, result, production, against, remarks }: DigestParts): Message {
  const title = `Digest ${tastingName(view.tasting)} · ${view.recipe.name}`;
  const { headline, luck } = verdictWords(view, result);
  const next = nextWords(view, nextAtTable(view, result), result.decision.verdict !== 'clear');
  const value = { tasting: view.tasting.id };
  const blocks: KnownBlock[] = [
    header(title),
    section(`*${mrkdwn(headline)}*`),
    ...explained(view, result, luck, against),
    ...standings(view, result),
    ...sections(['*What to say about it*', ...sayings(view, result)]),
    ...(production ? productionBlocks(production, view) : []),
    ...listed(
      result.decision.verdict === 'clear' ? 'What would change it' : 'What would settle it',
      settleSentences(view, result.decision).map(mrkdwn),
      next ? [next.said] : [],
    ),
    ...(remarks ? [section(`“${mrkdwn(remarks)}”`)] : []),
    context(footer(view, result, production)),
    ...buttons(
      ...(next?.tap ? [next.tap] : []),
      button('The numbers behind it', 'digest.numbers', value),
      button('Export', 'tally.export', value),
    ),
  ];
  return { text: mrkdwn(`${title}. ${verdictSentence(view, result)}`), blocks };
}

function explained(
  view: TableView,
  result: TableResult,
  luck: string | null,
  against: string | null,
): readonly KnownBlock[] {
  const lines = [
    against,
    luck,
    ruleSentence(view, result.decision),
    ...majoritySentences(view, result.decision),
  ].filter((line) => line !== null);
  return sections(lines.map(mrkdwn));
}

function standings(view: TableView, result: TableResult): readonly KnownBlock[] {
  const caption = standingsCaption(result.decision);
  const agreed = agreementSentence(result.decision);
  return [
    ...sections([
      `*How the ratios stand*${caption ? ` (${caption})` : ''}`,
      ...standingLines(view, result.decision).map(mrkdwn),
      ...(agreed ? [mrkdwn(agreed)] : []),
    ]),
    ...(result.brief ? sections(briefLines(view, result.brief)) : []),
  ];
}

function productionBlocks(production: ProductionNote, view: TableView): readonly KnownBlock[] {
  const watch = [
    ...production.watch,
    ...production.joining.filter((advice) => advice.verdict !== 'unknown').map((advice) => advice.said),
  ].slice(0, 6);
  return [
    divider(),
    ...sections(['*Production note*', ...productionLines(production, view.house)]),
    ...listed('What to watch', watch.map(mrkdwn)),
  ];
}

function listed(title: string, ...groups: readonly (readonly string[])[]): readonly KnownBlock[] {
  const lines = groups.flat();
  return lines.length === 0 ? [] : sections([`*${title}*`, ...lines.map((line) => `• ${line}`)]);
}

function footer(view: TableView, result: TableResult, production: ProductionNote | null): string {
  const placed = result.decision.placed.length;
  const who = placed === result.tasters ? 'all' : `${placed}`;
  const counted = `${result.notes} notes from ${result.tasters} tasters, ${who} of whom placed the ratios.`;
  const signed = production?.signedOffBy ? ` Signed off by <@${production.signedOffBy}>.` : '';
  return `${counted}${signed} Host <@${view.tasting.host}>. Notes name flavours, not ingredients.`;
}

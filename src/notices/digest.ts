import type { KnownBlock } from '@slack/types';
import type { ProductionNote } from '../domain/production/production-note.js';
import type { TableResult } from '../domain/record/table-result.js';
import { coffeeName, cupContents } from '../domain/record/table-setting.js';
import { tastingName } from '../domain/record/tasting.js';
import { traceSentences } from '../domain/trace/sentences.js';
import { context, divider, header, section, sections } from './blocks.js';
import { mrkdwn } from './escape.js';
import type { Message } from './message.js';
import { productionLines } from './production-lines.js';
import type { TableView } from './table-view.js';
import {
  majoritySentences,
  ruleSentence,
  standingLines,
  verdictSentence,
  wouldSettleSentences,
} from './verdict-words.js';

const MOST_SENTENCES = 5;

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
  const { decision } = result;
  const title = `Digest ${tastingName(view.tasting)} · ${view.recipe.name}`;
  const verdict = verdictSentence(view, result);
  const blocks: KnownBlock[] = [header(title), section(`*${mrkdwn(verdict)}*`)];
  const explained = [ruleSentence(view, decision), ...majoritySentences(view, decision), against].filter(
    (line) => line !== null,
  );
  if (explained.length > 0) blocks.push(...sections(explained.map(mrkdwn)));
  blocks.push(section(['*How the ratios stand*', ...standingLines(view, decision).map(mrkdwn)].join('\n')));
  blocks.push(
    ...sections([
      '*What to say about it*',
      ...sayings(view, result.trace).map((line) => `• ${mrkdwn(line)}`),
    ]),
  );
  if (production) {
    blocks.push(divider(), ...sections(['*Production note*', ...productionLines(production, view.house)]));
    const watch = watchLines(production);
    if (watch.length > 0)
      blocks.push(...sections(['*What to watch*', ...watch.map((line) => `• ${mrkdwn(line)}`)]));
  }
  const settle = wouldSettleSentences(view, decision);
  if (settle.length > 0)
    blocks.push(...sections(['*What would change it*', ...settle.map((line) => `• ${mrkdwn(line)}`)]));
  if (remarks) blocks.push(section(`“${mrkdwn(remarks)}”`));
  blocks.push(context(footer(view, result, production)));
  return { text: `${title}. ${verdict}`, blocks };
}

function sayings(view: TableView, trace: TableResult['trace']): readonly string[] {
  if (!trace) return ['No ratio was tasted.'];
  const nameOfCup = (id: string) => {
    const cup = view.cups.find((held) => String(held.id) === id);
    if (!cup) return 'a cup';
    return cup.kind === 'component'
      ? coffeeName(view.coffees, cup.parts[0]?.coffeeId ?? 0)
      : cupContents(cup, view);
  };
  const sentences = traceSentences(trace, { nameOfCup, wordOf: (attribute) => attribute });
  if (sentences.length === 0) return ['Too few shared words to say which coffee a flavour comes from.'];
  return sentences.slice(0, MOST_SENTENCES).map((sentence) => sentence.text);
}

function watchLines(production: ProductionNote): readonly string[] {
  return [
    ...production.watch,
    ...production.joining.filter((advice) => advice.verdict !== 'unknown').map((advice) => advice.said),
  ].slice(0, 6);
}

function footer(view: TableView, result: TableResult, production: ProductionNote | null): string {
  const counted = `${result.notes} notes from ${result.tasters} tasters, ${result.decision.placed.length} of them placed the ratios.`;
  const signed = production?.signedOffBy ? ` Signed off by <@${production.signedOffBy}>.` : '';
  const hazel = 'Notes name flavours, not ingredients.';
  return `${counted}${signed} Host <@${view.tasting.host}>. ${hazel}`;
}

import type { Button, KnownBlock } from '@slack/types';
import { formatRatio } from '../../domain/ratio/parts.js';
import { cupContents, type TableSetting } from '../../domain/record/table-setting.js';
import { type Cup, cupName, tastingName } from '../../domain/record/tasting.js';
import { placingAltText, placingDrawing, tallyAltText, tallyDrawing } from '../../domain/result/drawing.js';
import type { TableNext, TableResult } from '../../domain/result/table-result.js';
import type { CupTally } from '../../domain/tally/tally.js';
import { button, context, header, section } from '../../kit/blocks.js';
import { mrkdwn, shorten } from '../../kit/escape.js';
import type { Message, PictureSpec } from '../../kit/notice.js';
import { isHidden, type TableView } from '../common/table-view.js';
import { ratioName } from './verdict-words.js';

const SHOWN = 4;

/** What most tasters share about each cup, as counts, then what sets it apart. Nobody is named. */
export function tallyMessage(view: TableView, result: TableResult): Message {
  const title = `Tally ${tastingName(view.tasting)} · ${view.recipe.name}`;
  const blocks: KnownBlock[] = [header(title)];
  const spoken: string[] = [];
  for (const cup of view.cups) {
    const tally = result.tally.cups.find((entry) => entry.cup === String(cup.id));
    blocks.push(section(cupLines(cup, view, result, tally).join('\n')));
    const words = tally ? shownWords(tally).map((word) => countWords(word, tally)) : [];
    const none = tally && tally.tasters > 0 ? 'no word shared' : 'no notes';
    spoken.push(`${cupName(cup)}: ${words.join(', ') || none}`);
  }
  blocks.push(
    context(
      `${result.notes} notes from ${result.tasters} tasters. Each taster counts once per word and cup; the latest word counts.`,
    ),
  );
  return { text: `${mrkdwn(title)}. ${spoken.join('. ')}.`, blocks: blocks.slice(0, 49) };
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
  const shown = shownWords(tally);
  const lines = [head, shown.map((word) => countWords(word, tally)).join(' · ') || 'No word shared so far.'];
  const gathered = gatheringFamilies(tally, shown);
  if (gathered.length > 0)
    lines.push(
      `_As families: ${gathered.map((family) => `${family.name} ${family.tasters} of ${tally.tasters}`).join(' · ')}_`,
    );
  const denied = tally.attributes
    .filter((attribute) => attribute.denied > 0 && attribute.denied > attribute.tasters)
    .slice(0, 2);
  if (denied.length > 0)
    lines.push(
      `Said not to be there: ${denied.map((word) => `${word.attribute} (${word.denied} of ${tally.tasters})`).join(', ')}`,
    );
  const apart = apartWords(cup, result);
  if (apart.length > 0) lines.push(`Sets it apart: ${apart.join(', ')}.`);
  return lines;
}

type Word = CupTally['attributes'][number];

/** The most shared first; words of one person only when nothing is shared. */
function shownWords(tally: CupTally): readonly Word[] {
  const present = tally.attributes.filter((attribute) => attribute.tasters > 0);
  const shared = present.filter((attribute) => attribute.tasters > 1);
  return (shared.length > 0 ? shared : present).slice(0, SHOWN);
}

/** "lemon 7 of 9" */
function countWords({ attribute, tasters }: Word, tally: CupTally): string {
  return `${attribute} ${tasters} of ${tally.tasters}`;
}

/** Families in which more tasters meet than in any of their words shown: half the cup's tasters or more. */
function gatheringFamilies(tally: CupTally, shown: readonly Word[]): CupTally['families'] {
  return tally.families
    .filter((family) => {
      const most = Math.max(
        0,
        ...shown.filter((word) => word.family === family.name).map((word) => word.tasters),
      );
      return family.tasters > most && family.tasters > 1 && family.tasters * 2 >= tally.tasters;
    })
    .slice(0, 2);
}

const MOST_APART = 3;

/** "the most strawberry of the table", "no strawberry": where the cup differs from the others beyond chance. */
function apartWords(cup: Cup, { tally }: TableResult): readonly string[] {
  const shareOf = (id: string, attribute: string) =>
    tally.cups.find((entry) => entry.cup === id)?.attributes.find((word) => word.attribute === attribute)
      ?.share ?? 0;
  const id = String(cup.id);
  return (tally.setsApart.byCup.get(id) ?? [])
    .slice(0, MOST_APART)
    .map(({ attribute, direction, tasters }) => {
      if (direction === 'less') return tasters === 0 ? `no ${attribute}` : `little ${attribute}`;
      const others = tally.cups
        .filter((entry) => entry.cup !== id)
        .map((entry) => shareOf(entry.cup, attribute));
      return shareOf(id, attribute) > Math.max(...others)
        ? `the most ${attribute} of the table`
        : `more ${attribute} than most cups`;
    });
}

const ALT_LIMIT = 2000;

/** The tally's picture: attributes by cup; null while there are no words. */
export function tallyPicture(setting: TableSetting, result: TableResult): PictureSpec | null {
  const drawing = tallyDrawing(setting.cups, result);
  const title = 'Attributes by cup: how many tasters found them';
  return drawing && { drawing, altText: shorten(tallyAltText(drawing), ALT_LIMIT), title };
}

/** The digest's picture: how the ratios stand; null when fewer than two were placed. */
export function placingPicture(setting: TableSetting, result: TableResult): PictureSpec | null {
  const drawing = placingDrawing((cup) => ratioName(setting, cup), result);
  const title = 'How the ratios stand';
  return drawing && { drawing, altText: shorten(placingAltText(drawing), ALT_LIMIT), title };
}

/** What the likings say about a ratio not yet tasted: a sentence, and the button that pours or books it. */
type NextWords = { readonly said: string; readonly tap: Button | null };

/**
 * The next ratio worth pouring; while the table is open the button pours it, afterwards it opens a booking. No cup
 * is named by its contents, so that a blind table stays blind. Null when there is nothing worth saying.
 *
 * @param saysWhyNot whether half a sentence about why nothing is suggested would help
 */
export function nextWords(setting: TableSetting, next: TableNext, saysWhyNot: boolean): NextWords | null {
  const { suggestion, held, error, raters } = next;
  if (suggestion === null || error === null) {
    const why = saysWhyNot ? whyNot(next) : null;
    return why === null ? null : { said: why, tap: null };
  }
  const ratio = formatRatio(suggestion.parts);
  const gain = `${points(suggestion.gain)} above the best so far, and the forecast’s own error is ${points(error)}`;
  if (held !== null)
    return { said: `The likings point to ${cupName(held)}, which too few have rated: ${gain}.`, tap: null };
  const said = `*${ratio}* may be worth a cup: the likings of ${raters === 1 ? 'one taster' : `${raters} tasters`} put it at ${points(suggestion.predictedLiking)} of 9, ${gain}.`;
  const { id, state } = setting.tasting;
  const value = { tasting: id, ratio: suggestion.parts };
  const [deed, action] = state === 'open' ? ['Pour', 'pour.ratio'] : ['Book', 'suggest.book'];
  return { said, tap: button(`${deed} ${ratio}`, action, value) };
}

function whyNot({ reason }: TableNext): string | null {
  switch (reason) {
    case 'winner not rated':
    case 'too few rated ratios':
      return 'With likings from 1 to 9 on a few more cups (“E 8/9”), I could say which ratio to try next.';
    case 'nothing beyond the error':
      return 'Between the cups tasted, no ratio is forecast to be better beyond the forecast’s own error.';
    default:
      return null;
  }
}

function points(value: number): string {
  return value.toFixed(1);
}

import type { Button } from '@slack/types';
import { formatRatio } from '../../domain/ratio/parts.js';
import type { TableNext } from '../../domain/record/table-result.js';
import type { TableSetting } from '../../domain/record/table-setting.js';
import { cupName } from '../../domain/record/tasting.js';
import { button } from '../../kit/blocks.js';

/** What the likings say about a ratio not yet tasted: a sentence, and the button that pours or books it. */
export type NextWords = { readonly said: string; readonly tap: Button | null };

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
  const said = `*${ratio}* may be worth a cup: ${likingsOf(raters)} put it at ${points(suggestion.predictedLiking)} of 9, ${gain}.`;
  const { id, state } = setting.tasting;
  const value = { tasting: id, ratio: suggestion.parts };
  if (state === 'open') return { said, tap: button(`Pour ${ratio}`, 'pour.ratio', value) };
  return { said, tap: button(`Book ${ratio}`, 'suggest.book', value) };
}

function likingsOf(raters: number): string {
  return `the likings of ${raters === 1 ? 'one taster' : `${raters} tasters`}`;
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

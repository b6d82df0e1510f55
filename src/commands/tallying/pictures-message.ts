import type { TableResult } from '../../domain/record/table-result.js';
import type { TableSetting } from '../../domain/record/table-setting.js';
import { placingAltText, placingDrawing, tallyAltText, tallyDrawing } from '../../domain/tally/drawing.js';
import { shorten } from '../../kit/escape.js';
import type { PictureSpec } from '../../kit/notice.js';
import { ratioName } from './verdict-words.js';

const ALT_LIMIT = 2000;

/** The tally's picture: attributes by cup; null while there are no words. */
export function tallyPicture(setting: TableSetting, result: TableResult): PictureSpec | null {
  const drawing = tallyDrawing(setting.cups, result);
  return (
    drawing && {
      drawing,
      altText: shorten(tallyAltText(drawing), ALT_LIMIT),
      title: 'Attributes by cup: how many tasters found them',
    }
  );
}

/** The digest's picture: how the ratios stand; null when fewer than two were placed. */
export function placingPicture(setting: TableSetting, result: TableResult): PictureSpec | null {
  const drawing = placingDrawing((cup) => ratioName(setting, cup), result, result.ranks);
  return (
    drawing && {
      drawing,
      altText: shorten(placingAltText(drawing), ALT_LIMIT),
      title: 'How the ratios stand',
    }
  );
}

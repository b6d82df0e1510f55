import { drawPicture } from '../kit/pictures/draw-picture.js';
import type { Log } from '../runtime/log.js';
import { createBot } from './create-bot.js';
import type { BotOptions } from './run.js';

/** The bot and what draws for it, as every way of running it needs them. */
export function botParts(_log: Log): Pick<BotOptions, 'bot' | 'drawPicture' | 'drawSheet'> {
  return {
    bot: createBot(),
    drawPicture,
    // Loaded for the first sheet, as its library is large and most starts print none.
    drawSheet: async (content, nameOf) =>
      (await import('../kit/pdf/draw-sheet.js')).drawSheet(content, nameOf),
  };
}

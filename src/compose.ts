import { createBot } from './commands/create-bot.js';
import type { Log } from './log.js';
import { drawSheet } from './pdf/draw-sheet.js';
import { drawPicture } from './pictures/draw-picture.js';
import type { BotOptions } from './run.js';

/** The bot and what draws for it, as every way of running it needs them. */
export function botParts(_log: Log): Pick<BotOptions, 'bot' | 'drawPicture' | 'drawSheet'> {
  return {
    bot: createBot(),
    drawPicture,
    drawSheet,
  };
}

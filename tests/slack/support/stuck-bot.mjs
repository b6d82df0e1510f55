// A bot in a process of its own that stores events and then hangs over them, to be killed in that moment.
import process from 'node:process';
import { systemClock } from '../../../dist/clock.js';
import { readConfig } from '../../../dist/config.js';
import { createLog } from '../../../dist/log.js';
import { startBot } from '../../../dist/run.js';

const hang = () => new Promise(() => {});
const running = await startBot({
  config: readConfig(process.env),
  clock: systemClock,
  log: createLog('silent'),
  bot: {
    typed: hang,
    tapped: hang,
    submitted: hang,
    concerns: async () => true,
    received: hang,
    due: hang,
    notices: async () => [],
  },
  drawPicture: hang,
  drawSheet: hang,
});
process.stdout.write(`${running.url}\n`);

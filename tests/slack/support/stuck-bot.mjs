// A bot in a process of its own that stores events and then hangs over them, to be killed in that moment.
import process from 'node:process';
import { readConfig } from '../../../dist/app/config.js';
import { startBot } from '../../../dist/app/run.js';
import { systemClock } from '../../../dist/runtime/clock.js';
import { createLog } from '../../../dist/runtime/log.js';

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

import { playShort, playWhole } from './demo/play.js';
import { openStage } from './demo/stage.js';
import { STORIES } from './demo/stories.js';

/* Plays the demo's tasting from booking to digest, then the same table with two other outcomes. */

const START = new Date('2026-11-04T10:00:00Z');
const print = (line: string) => process.stdout.write(`${line}\n`);

const [first, ...others] = STORIES;
if (first) {
  const stage = await openStage(START);
  await playWhole(stage, first, print);
  await stage.close();
}
for (const story of others) {
  print('');
  print(`═══ The same table, had it gone otherwise: ${story.name}. ${story.told}`);
  const stage = await openStage(START);
  await playShort(stage, story, print);
  await stage.close();
}

import type { World } from './world.js';

/** How each of them begins. */
export const SECRET_BEGINS = 'zqhush';

/** A word that occurs nowhere else, to be looked for in the bot's files. */
export function nextSecret(world: World): string {
  const word = `${SECRET_BEGINS}${world.seed}x${world.expected.secrets.length}zq`;
  world.expected.secrets.push(word);
  return word;
}

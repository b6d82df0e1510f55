import { happens, patiently } from './insist.js';
import { count } from './look.js';
import { cardOf } from './person.js';
import type { World } from './world.js';

const LATE_MS = 60_000;
const HEARD_WITHIN_MS = 10_000;

/**
 * A note taken back in the bot's last life, whose words come long after word that it is gone. In the lives
 * before, the threads are read again at the next start, which would mend what the bot got wrong.
 */
export async function takesBackFirst(world: World): Promise<void> {
  const { channel, client, expected } = world;
  const { ts: thread } = await patiently(() => cardOf(world, 'noor', 'T1 ·'));
  await client.post('faults', { rules: [{ kind: 'deliver-late', only: ['message'], delayMs: LATE_MS }] });
  const person = world.id('teo');
  const text = 'A: cardboard';
  const ts = await client.say({ as: person, channel, thread, text });
  await client.post('delete', { as: person, channel, ts });
  expected.notes.set(ts, { ts, thread, person, stage: 'closed', text, claims: null, gone: true });
  const isHeard = () => count(world.database, 'select 1 from gone_message where ts = ?', ts) > 0;
  if (!(await happens(isHeard, HEARD_WITHIN_MS))) throw new Error('word of a note taken back is lost');
  await client.clearFaults();
  expected.done.push('take a note back before its words arrive');
}

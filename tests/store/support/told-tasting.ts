import { createBot } from '../../../src/app/create-bot.js';
import { seedScenario } from '../../../src/app/seed.js';
import { sendCommand, sendEvent, startFakeSlack, TEAM } from '../../slack/support/fake-slack.js';
import { startTestBot } from '../../slack/support/test-bot.js';

/** What each taster writes under cup C and as an order of the ratios, the words of the demo's house. */
const SAID: readonly (readonly [person: string, cup: string, order: string])[] = [
  ['U2NOOR', 'strawberry, light body', 'D > E'],
  ['U3TEO', 'strawberry and cocoa', 'E > D'],
  ['U4MIKA', 'very sweet, not sour', 'D > E'],
  ['U5SOL', 'strawberry', 'D > E'],
];

/** A database of this code with a whole tasting in it: booked, asked for, noted, corrected, decided, one booked ahead. */
export async function tellTasting(database: string): Promise<void> {
  const slack = await startFakeSlack();
  const running = await startTestBot({ slack, database, bot: createBot() });
  const told = async (text: string) => {
    await sendCommand(running.url, text);
    await running.settled();
  };
  const people = new Map([
    ['ines', 'U1INES'],
    ['bram', 'U9BRAM'],
  ]);
  await seedScenario(running.deps, TEAM, people, 'C1');
  await told('book "Harbour Lamp" tomorrow 14:00 ratios 2:1:1 40/40/20 with <@U2NOOR> <@U3TEO>');
  await told('table T1 open');
  const cards = await running.deps.db.selectFrom('notice').select(['key', 'ts']).execute();
  const cardOf = (key: string) => cards.find((one) => one.key === key)?.ts ?? '';
  let second = 0;
  const write = async (user: string, text: string, thread_ts: string) => {
    second += 1;
    const ts = `${Math.floor(Date.now() / 1000) - 100 + second}.000200`;
    const event = { type: 'message', channel: 'C1', channel_type: 'channel', user, text, ts, thread_ts };
    await sendEvent(running.url, event);
    return { ...event, ts };
  };
  for (const [person, cup, order] of SAID) {
    await write(person, cup, cardOf('cup:3'));
    await write(person, order, cardOf('table:1'));
  }
  const slip = await write('U6WREN', 'stawbery', cardOf('cup:3'));
  const { type: _, ...message } = slip;
  await sendEvent(running.url, {
    type: 'message',
    subtype: 'message_changed',
    channel: 'C1',
    channel_type: 'channel',
    ts: slip.ts,
    message: { ...message, text: 'strawberry', edited: { user: 'U6WREN', ts: `${slip.ts}1` } },
    previous_message: message,
  });
  const gone = await write('U7JUN', 'vinegar', cardOf('cup:3'));
  await sendEvent(running.url, {
    type: 'message',
    subtype: 'message_deleted',
    channel: 'C1',
    channel_type: 'channel',
    ts: gone.ts,
    deleted_ts: gone.ts,
    previous_message: gone,
  });
  await running.settled();
  await told('words "harbour fog" = smoky');
  await told('table T1 close');
  await told('digest T1 12 kg');
  await told('book "Harbour Lamp" tomorrow 16:00 ratios 3:2:1');
  const inAFortnight = new Date(Date.now() + 14 * 86_400_000).toISOString().slice(0, 10);
  await told(`book "Harbour Lamp" ${inAFortnight} 14:00 ratios 2:1:1 blind`);
  await running.stop();
  await slack.stop();
}

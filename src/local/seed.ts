import type { Scenario } from './scenario.js';
import { addChannel } from './state/channels.js';
import { type Db, run } from './state/database.js';
import { addPerson, findPersonByName } from './state/people.js';
import { tables } from './state/schema.js';

/** Empties the workspace; ids, secrets and the clock stay, for time does not go back under a running bot. */
export function emptyWorkspace(db: Db): void {
  for (const table of tables) run(db, `delete from ${table}`);
}

/** Fills an empty workspace with the scenario's people, the bot, and channels. */
export function seedScenario(db: Db, scenario: Scenario): void {
  const bot = addPerson(db, {
    name: scenario.bot.name,
    realName: scenario.bot.realName,
    tz: 'Etc/UTC',
    isBot: true,
  });
  for (const person of scenario.people) addPerson(db, { ...person, isBot: false });
  for (const channel of scenario.channels) {
    const members = channel.members.flatMap((name) => findPersonByName(db, name)?.id ?? []);
    addChannel(db, channel.name, channel.kind, channel.withoutBot ? members : [bot.id, ...members]);
  }
}

import { addChannel } from './state/channels.js';
import { type Db, run } from './state/database.js';
import { addPerson, findPersonByName } from './state/people.js';
import { tables } from './state/schema.js';

/** Who and what a fresh workspace begins with. */
export type Scenario = {
  readonly workspace: { readonly name: string; readonly domain: string };
  readonly bot: {
    readonly name: string;
    readonly realName: string;
    /** The slash commands that the bot has registered. */
    readonly commands: readonly string[];
  };
  readonly people: readonly { readonly name: string; readonly realName: string; readonly tz: string }[];
  readonly channels: readonly {
    readonly name: string;
    readonly kind: 'channel' | 'private';
    /** Handles; the bot is a member of every channel of a scenario unless `withoutBot`. */
    readonly members: readonly string[];
    readonly withoutBot?: boolean;
  }[];
};

const TZ = 'Europe/Lisbon';

/** The demo: a roastery's team of eight around one tasting table. */
export const fernhollow: Scenario = {
  workspace: { name: 'Fernhollow Coffee Works', domain: 'fernhollow' },
  bot: { name: 'tallyspoon', realName: 'Tallyspoon', commands: ['/spoon'] },
  people: ['Ines', 'Bram', 'Noor', 'Teo', 'Mika', 'Sol', 'Wren', 'Jun'].map((realName) => ({
    name: realName.toLowerCase(),
    realName,
    tz: TZ,
  })),
  channels: [
    {
      name: 'tasting-table',
      kind: 'channel',
      members: ['ines', 'bram', 'noor', 'teo', 'mika', 'sol', 'wren', 'jun'],
    },
  ],
};

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

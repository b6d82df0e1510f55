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

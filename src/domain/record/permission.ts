/*
 * Who may do what: the one table. Anyone books; whoever is in a table's channel, or is one of its people, sees
 * and tastes it; what ends or changes a table is the host's or a steward's; a roast ask is answered by its roaster; a note is its writer's alone; the house
 * is kept by its stewards, and by anyone until there is one.
 */

/** What a person is to the thing at hand. */
export type Standing = {
  /** Host of the tasting, or somebody for whom the roast was asked. */
  readonly host: boolean;
  /** Named by the house. */
  readonly steward: boolean;
  /** The roaster of the ask, or the house's. */
  readonly roaster: boolean;
  /** In the table's channel, or one of its people: invited, has written there, roasts for it. */
  readonly present: boolean;
  /** Wrote the note. */
  readonly writer: boolean;
  /** Nobody keeps the house yet: it has named no steward. */
  readonly unkept: boolean;
};

type Rule = {
  /** Completes "That is for …". */
  readonly whom: string;
  readonly may: (who: Standing) => boolean;
};

const ANYONE: Rule = { whom: 'anyone', may: () => true };
const PRESENT: Rule = {
  whom: 'whoever is in its channel, and its own people',
  may: (who) => who.present || who.host || who.steward,
};
const HOST: Rule = { whom: 'the host', may: (who) => who.host };
const HOST_OR_STEWARD: Rule = {
  whom: 'the host and the stewards',
  may: (who) => who.host || who.steward,
};
const ASKER_OR_STEWARD: Rule = {
  whom: 'whoever asked for the roast, or a steward',
  may: (who) => who.host || who.steward,
};
const ROASTER_OR_STEWARD: Rule = {
  whom: 'the roaster it was sent to, or a steward',
  may: (who) => who.roaster || who.steward,
};
const STEWARD: Rule = { whom: 'a steward', may: (who) => who.steward };
/** The first steward has to be named by somebody. */
const KEEPER: Rule = { whom: 'a steward', may: (who) => who.steward || who.unkept };
const WRITER: Rule = { whom: 'whoever wrote the note', may: (who) => who.writer };

const TABLE = {
  taste: PRESENT,
  'look at table': PRESENT,
  'see own data': ANYONE,
  book: ANYONE,
  look: ANYONE,
  'ask for roast': ANYONE,
  'change note': WRITER,
  'see codes': HOST,
  'change table': HOST_OR_STEWARD,
  'open table': HOST_OR_STEWARD,
  pour: HOST_OR_STEWARD,
  'show tally': HOST_OR_STEWARD,
  'close table': HOST_OR_STEWARD,
  decide: HOST_OR_STEWARD,
  'cancel tasting': HOST_OR_STEWARD,
  'answer ask': ROASTER_OR_STEWARD,
  'handle offer': ASKER_OR_STEWARD,
  'change shelf': ANYONE,
  'change recipe': ANYONE,
  'sign off recipe': STEWARD,
  'teach words': ANYONE,
  'change house': KEEPER,
} as const satisfies Readonly<Record<string, Rule>>;

export type Action = keyof typeof TABLE;

/** Every action of the table. */
export const ACTIONS: readonly string[] = Object.keys(TABLE);

/** May a person of this standing do this? */
export function may(action: Action, who: Standing): boolean {
  return TABLE[action].may(who);
}

/** Who it is for, to complete "That is for …". */
export function whoMay(action: Action): string {
  return TABLE[action].whom;
}

/*
 * Who may do what: the one table. Anyone in the channel books and tastes; what ends or changes a table is
 * the host's or a steward's; a roast ask is answered by its roaster; the house is kept by its stewards.
 */

export const ACTIONS = [
  'taste',
  'book',
  'look',
  'see codes',
  'change table',
  'open table',
  'pour',
  'show tally',
  'close table',
  'decide',
  'cancel tasting',
  'answer ask',
  'handle offer',
  'change shelf',
  'change recipe',
  'sign off recipe',
  'teach words',
  'change house',
] as const;
export type Action = (typeof ACTIONS)[number];

/** What a person is to the thing at hand. */
export type Standing = {
  readonly host: boolean;
  /** Named by the house; everybody counts as one while the house has named nobody. */
  readonly steward: boolean;
  readonly roaster: boolean;
};

const ANYONE = () => true;
const HOST_OR_STEWARD = (who: Standing) => who.host || who.steward;
const ROASTER_OR_STEWARD = (who: Standing) => who.roaster || who.steward;
const STEWARD = (who: Standing) => who.steward;
const HOST = (who: Standing) => who.host;

const TABLE: Readonly<Record<Action, (who: Standing) => boolean>> = {
  taste: ANYONE,
  book: ANYONE,
  look: ANYONE,
  'see codes': HOST,
  'change table': HOST_OR_STEWARD,
  'open table': HOST_OR_STEWARD,
  pour: HOST_OR_STEWARD,
  'show tally': HOST_OR_STEWARD,
  'close table': HOST_OR_STEWARD,
  decide: HOST_OR_STEWARD,
  'cancel tasting': HOST_OR_STEWARD,
  'answer ask': ROASTER_OR_STEWARD,
  'handle offer': HOST_OR_STEWARD,
  'change shelf': ANYONE,
  'change recipe': ANYONE,
  'sign off recipe': STEWARD,
  'teach words': ANYONE,
  'change house': STEWARD,
};

/** May a person of this standing do this? */
export function may(action: Action, who: Standing): boolean {
  return TABLE[action](who);
}

/** Who it is for, to complete "That is for …". */
export function whoMay(action: Action): string {
  const rule = TABLE[action];
  if (rule === HOST) return 'the host';
  if (rule === HOST_OR_STEWARD) return 'the host and the stewards';
  if (rule === ROASTER_OR_STEWARD) return 'the roaster it was sent to, or a steward';
  if (rule === STEWARD) return 'a steward';
  return 'anyone';
}

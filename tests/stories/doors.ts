import { listFeatures } from '../../src/app/features.js';
import type { Action } from '../../src/domain/record/permission.js';

/* Every button and form of the bot, with the action of the permission table that it stands for. */

const features = listFeatures();

export const TAPS = actions(features.map((feature) => feature.taps));
export const FORMS = actions(features.map((feature) => feature.forms));

/** What shows or takes something of one table: for whoever is in its channel, and for its people anywhere. */
export const OF_A_TABLE = [
  ...Object.entries(TAPS).map(([door, action]) => ({ how: 'tap' as const, door, action })),
  ...Object.entries(FORMS).map(([door, action]) => ({ how: 'submit' as const, door, action })),
].filter(({ action }) => action === 'look at table' || action === 'taste');

function actions(
  doors: readonly Readonly<Record<string, { readonly for: Action }>>[],
): Readonly<Record<string, Action>> {
  return Object.fromEntries(
    doors.flatMap((one) => Object.entries(one).map(([name, door]) => [name, door.for])),
  );
}

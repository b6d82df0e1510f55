import { LIVE_ASKS } from '../../domain/record/ask.js';
import { may } from '../../domain/record/permission.js';
import { LIVE_STATES, type Tasting, tastingName } from '../../domain/record/tasting.js';
import { formatWhen } from '../../domain/when/local-day.js';
import { listAsks } from '../../store/asks.js';
import { coffeesById } from '../../store/coffees.js';
import type { DbOrTransaction } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import { listWithoutCup } from '../../store/notes.js';
import { listRecipes } from '../../store/recipes.js';
import { listTastings } from '../../store/tastings.js';
import type { Who } from '../common/intake.js';
import { isPresent, standingOf } from '../common/standing.js';
import type { NextStep } from './home-messages.js';

/** What is next for this person, the most pressing first; `channel` is where they ask, when that is known. */
export async function nextFor(
  db: DbOrTransaction,
  who: Who,
  channel: string | null,
): Promise<readonly NextStep[]> {
  const { workspace, person } = who;
  const house = await loadHouse(db, workspace);
  const steps: NextStep[] = [];
  for (const note of await listWithoutCup(db, workspace, person)) {
    steps.push({
      text: `One of your notes names no cup: “${note.text.slice(0, 80)}”`,
      label: 'Say which cup',
      action: 'note.correct',
      value: { note: note.id },
    });
  }
  steps.push(...(await askSteps(db, who)));
  for (const table of await listTastings(db, workspace, LIVE_STATES)) {
    if (table.host === person) steps.push(...hostSteps(table, house.timeZone));
    else {
      const guest = guestSteps(table, person, house.timeZone);
      if (guest.length === 0) continue;
      const present = await isPresent(db, who, channel, table);
      if (may('taste', standingOf(person, house, { tasting: table, present }))) steps.push(...guest);
    }
  }
  if (steps.length === 0) steps.push(...(await firstSteps(db, workspace)));
  return steps;
}

async function askSteps(db: DbOrTransaction, { workspace, person }: Who): Promise<readonly NextStep[]> {
  const asks = (await listAsks(db, workspace, LIVE_ASKS)).filter((ask) => ask.roaster === person);
  const coffees = await coffeesById(
    db,
    workspace,
    asks.map((ask) => ask.coffeeId),
  );
  return asks.map((ask) => {
    const coffee = coffees.get(ask.coffeeId)?.name ?? 'a coffee';
    const text =
      ask.state === 'asked'
        ? `A roast of ${coffee} is waiting for your answer.`
        : `${coffee} is on your plan.`;
    return { text, label: 'Show my asks', action: 'ask.list', value: {} };
  });
}

function hostSteps(tasting: Tasting, zone: string): readonly NextStep[] {
  const name = tastingName(tasting);
  const value = { tasting: tasting.id };
  switch (tasting.state) {
    case 'open':
      return [
        {
          text: `${name} is open. When everyone has written, close it.`,
          label: 'Close the table',
          action: 'table.close',
          value,
        },
      ];
    case 'closed':
      return [
        {
          text: `${name} is closed. Decide, and its digest is posted.`,
          label: 'Decide',
          action: 'digest.form',
          value,
        },
      ];
    default:
      return [
        {
          text: `${name} is on ${formatWhen(tasting.startsAt, zone)}${tasting.state === 'ready' ? ', ready' : ', not every coffee is here yet'}.`,
          label: 'Table sheet',
          action: 'table.sheet',
          value,
        },
      ];
  }
}

function guestSteps(tasting: Tasting, person: string, zone: string): readonly NextStep[] {
  const name = tastingName(tasting);
  if (tasting.state === 'open') {
    return [
      {
        text: `${name} is open. Reply under each cup, or use the form.`,
        label: 'Write a note',
        action: 'note.form',
        value: { tasting: tasting.id },
      },
    ];
  }
  if (!tasting.invited.includes(person) || tasting.state === 'closed') return [];
  return [
    {
      text: `You are at ${name} on ${formatWhen(tasting.startsAt, zone)}.`,
      label: null,
      action: null,
      value: null,
    },
  ];
}

async function firstSteps(db: DbOrTransaction, workspace: string): Promise<readonly NextStep[]> {
  const recipes = await listRecipes(db, workspace);
  if (recipes.length > 0)
    return [
      {
        text: 'Nothing is waiting for you. Book the next tasting?',
        label: 'Book a tasting',
        action: 'book.form',
        value: {},
      },
    ];
  return [
    {
      text: 'Nothing is set up yet. Tell the house its roast days and roaster: `/spoon house`. Then add coffees: `/spoon shelf add`, and a blend: `/spoon recipe add`.',
      label: null,
      action: null,
      value: null,
    },
  ];
}

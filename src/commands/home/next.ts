import { LIVE_ASKS } from '../../domain/record/ask.js';
import { may } from '../../domain/record/permission.js';
import { LIVE_STATES, type Tasting, tastingName } from '../../domain/record/tasting.js';
import { formatWhen } from '../../domain/when/local-day.js';
import { listAsks } from '../../store/asks.js';
import { coffeesById } from '../../store/coffees.js';
import type { Db } from '../../store/db.js';
import { loadHouse } from '../../store/house.js';
import { listWithoutCup } from '../../store/notes.js';
import { listRecipes } from '../../store/recipes.js';
import { listTastings } from '../../store/tastings.js';
import type { Who } from '../common/intake.js';
import { isPresent, standingOf } from '../common/standing.js';
import type { NextStep } from './home-messages.js';

/** What is next for this person, the most pressing first; `channel` is where they ask, when that is known. */
export async function nextFor(db: Db, who: Who, channel: string | null): Promise<readonly NextStep[]> {
  const { workspace, person } = who;
  const house = await loadHouse(db, workspace);
  const steps: NextStep[] = [];
  for (const note of await listWithoutCup(db, workspace, person)) {
    steps.push(
      step(`One of your notes names no cup: “${note.text.slice(0, 80)}”`, 'Say which cup', 'note.correct', {
        note: note.id,
      }),
    );
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

/** A step with its button; without a label there is none. */
function step(
  text: string,
  label: string | null = null,
  action: string | null = null,
  value: unknown = null,
): NextStep {
  return { text, label, action, value };
}

async function askSteps(db: Db, { workspace, person }: Who): Promise<readonly NextStep[]> {
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
    return step(text, 'Show my asks', 'ask.list', {});
  });
}

function hostSteps(tasting: Tasting, zone: string): readonly NextStep[] {
  const name = tastingName(tasting);
  const value = { tasting: tasting.id };
  switch (tasting.state) {
    case 'open':
      return [
        step(
          `${name} is open. When everyone has written, close it.`,
          'Close the table',
          'table.close',
          value,
        ),
      ];
    case 'closed':
      return [step(`${name} is closed. Decide, and its digest is posted.`, 'Decide', 'digest.form', value)];
    default:
      return [
        step(
          `${name} is on ${formatWhen(tasting.startsAt, zone)}${tasting.state === 'ready' ? ', ready' : ', not every coffee is here yet'}.`,
          'Table sheet',
          'table.sheet',
          value,
        ),
      ];
  }
}

function guestSteps(tasting: Tasting, person: string, zone: string): readonly NextStep[] {
  const name = tastingName(tasting);
  if (tasting.state === 'open') {
    return [
      step(`${name} is open. Reply under each cup, or use the form.`, 'Write a note', 'note.form', {
        tasting: tasting.id,
      }),
    ];
  }
  if (!tasting.invited.includes(person) || tasting.state === 'closed') return [];
  return [step(`You are at ${name} on ${formatWhen(tasting.startsAt, zone)}.`)];
}

async function firstSteps(db: Db, workspace: string): Promise<readonly NextStep[]> {
  const recipes = await listRecipes(db, workspace);
  if (recipes.length > 0)
    return [step('Nothing is waiting for you. Book the next tasting?', 'Book a tasting', 'book.form', {})];
  return [
    step(
      'Nothing is set up yet. Tell the house its roast days and roaster: `/spoon house`. Then add coffees: `/spoon shelf add`, and a blend: `/spoon recipe add`.',
    ),
  ];
}

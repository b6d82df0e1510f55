import { say } from '../../kit/blocks.js';
import { inTransaction } from '../../store/db.js';
import { listToldFacts, loadHouse } from '../../store/house.js';
import { reviveStopped } from '../../store/notices.js';
import { type Answer, type Deps, type Feature, subjectId, type Verb } from '../common/bot.js';
import { type Tap, tastingOf } from '../common/intake.js';
import { requireTable } from '../common/load-table.js';
import { requireMay, standingOf } from '../common/standing.js';
import { helloMessage, helpMessage, homeView } from './home-messages.js';
import { nextFor } from './next.js';

/**
 * What belongs to no single job: help, what is next in the home tab, the word when the bot comes to a channel.
 *
 * @param verbs every verb that help shows, asked for when it is shown
 */
export function homeFeature(verbs: () => readonly Verb[]): Feature {
  const help = async () => ({ message: helpMessage(verbs()) });
  return {
    verb: { name: 'help', does: 'every word with an example', example: '/spoon help', run: help },
    taps: {
      'help.retry': { for: 'change table', run: retryTap },
      'help.show': { for: 'look', run: help },
    },
    forms: {},
    subjects: {
      person: {
        async notices(deps, workspace, subject) {
          const person = subjectId(subject);
          const view = homeView(await nextFor(deps.db, { workspace, person }, null));
          return [{ kind: 'home', key: `home:${person}`, person, view }];
        },
      },
      channel: {
        async notices(deps, workspace, subject) {
          const channel = subjectId(subject);
          const told = await listToldFacts(deps.db, workspace);
          const message = helloMessage(told.has('roastDays'));
          return [{ kind: 'message', key: `hello:${channel}`, place: { kind: 'channel', channel }, message }];
        },
      },
    },
  };
}

/** The channel takes messages again: what could not be shown about a table is tried once more. */
async function retryTap(deps: Deps, tap: Tap): Promise<Answer> {
  const { workspace } = tap.who;
  const { tasting } = await requireTable(deps.db, workspace, tastingOf(tap));
  const house = await loadHouse(deps.db, workspace);
  requireMay('change table', standingOf(tap.who.person, house, { tasting }), tasting);
  await inTransaction(deps.db, (trx) => reviveStopped(trx, `tasting:${tasting.id}`, deps.clock.now()));
  return { message: say('Trying again. If it still does not work, I say so here.') };
}

import { listToldFacts } from '../../store/house.js';
import { type Feature, subjectId, type Verb } from '../common/feature.js';
import { helloMessage } from './hello-message.js';
import { helpMessage } from './help-message.js';
import { nextFor } from './next.js';
import { homeView } from './next-message.js';
import { retryTap } from './retry.js';

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

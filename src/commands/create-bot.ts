import { nearestWord } from '../domain/measure/nearest-word.js';
import { KindRefusal } from '../errors.js';
import { mrkdwn } from '../notices/escape.js';
import { helloMessage } from '../notices/hello.js';
import { helpMessage } from '../notices/help.js';
import { homeView, nextMessage } from '../notices/next.js';
import type { Notice } from '../notices/notice.js';
import { markChanged } from '../store/changed.js';
import { listToldFacts } from '../store/house.js';
import type { Answer } from './answer.js';
import { ask } from './ask.js';
import { askReminderDue } from './ask-due.js';
import { noticesOfAsk } from './ask-notices.js';
import { book } from './book.js';
import type { Bot } from './bot.js';
import type { Deps } from './deps.js';
import { digest } from './digest.js';
import { noticesOfExport } from './export.js';
import type { Feature, FormHandler, TapHandler } from './feature.js';
import { house } from './house.js';
import type { Typed } from './intake.js';
import { nextFor } from './next.js';
import { note } from './note.js';
import { noticesOfNote, noticesOfTasting } from './notices-of.js';
import { pour } from './pour.js';
import { noticesOfOwnData } from './privacy-file.js';
import { concerns, handleReceived } from './received.js';
import { recipe } from './recipe.js';
import { retryTap } from './retry.js';
import { shelf } from './shelf.js';
import { table } from './table.js';
import { tally } from './tally.js';
import { afterFirstWord, firstWord } from './verbs.js';
import { words } from './words.js';

const help: Feature = {
  verb: {
    name: 'help',
    does: 'every word with an example',
    example: '/spoon help',
    run: async () => ({ message: helpMessage(FEATURES.map((feature) => feature.verb)) }),
  },
  taps: new Map([
    ['help.retry', retryTap],
    ['help.show', async () => ({ message: helpMessage(FEATURES.map((feature) => feature.verb)) })],
  ]),
  forms: new Map(),
};

/** Every verb, in the order help shows them. */
export const FEATURES: readonly Feature[] = [
  book,
  table,
  pour,
  note,
  tally,
  digest,
  ask,
  shelf,
  recipe,
  words,
  house,
  help,
];

/** The bot: finds the verb, button or form that was meant and hands over to it. */
export function createBot(): Bot {
  const verbs = new Map(FEATURES.map((feature) => [feature.verb.name, feature.verb]));
  const taps = new Map<string, TapHandler>(FEATURES.flatMap((feature) => [...feature.taps]));
  const forms = new Map<string, FormHandler>(FEATURES.flatMap((feature) => [...feature.forms]));

  async function typed(deps: Deps, said: Typed): Promise<Answer> {
    const word = firstWord(said.words);
    if (word === '') return { message: nextMessage(await nextFor(deps.db, said.who, said.channel)) };
    const verb = verbs.get(word);
    if (!verb) throw unknownWord(word, said, [...verbs.keys()]);
    return verb.run(deps, { ...said, words: afterFirstWord(said.words) });
  }

  return {
    typed,
    async tapped(deps, tap) {
      const handler = taps.get(tap.action.replace(/#.*$/, ''));
      if (!handler)
        throw new KindRefusal(
          'not understood',
          'That button is from an older message.',
          'Type `/spoon` to see what is next.',
        );
      return handler(deps, tap);
    },
    async submitted(deps, submission) {
      const handler = forms.get(submission.form.callback);
      if (!handler)
        throw new KindRefusal(
          'not understood',
          'That form is from an older version of me.',
          'Open it again.',
        );
      return handler(deps, submission);
    },
    concerns,
    received: (deps, received) => handleReceived(deps, received, typed),
    async due(deps, reminder) {
      if (reminder.kind.startsWith('ask')) return askReminderDue(deps, reminder);
      await markChanged(deps.db, reminder.workspace, reminder.subject, deps.clock.now());
    },
    notices: noticesOf,
  };
}

function unknownWord(word: string, said: Typed, known: readonly string[]): KindRefusal {
  const near = nearestWord(word, known);
  const example = FEATURES.find((feature) => feature.verb.name === near)?.verb.example;
  const instead = example
    ? `Did you mean \`${example}\`?`
    : 'Type `/spoon help` for every word with an example.';
  const where =
    said.threadTs === null ? '' : ' Notes need no command: reply under the cup without naming me.';
  return new KindRefusal('not understood', `I do not know the word “${mrkdwn(word)}”.${where}`, instead);
}

async function noticesOf(deps: Deps, workspace: string, subject: string): Promise<readonly Notice[]> {
  const [kind, id] = subject.split(':');
  switch (kind) {
    case 'tasting':
      return noticesOfTasting(deps, workspace, Number(id));
    case 'note':
      return noticesOfNote(deps, workspace, Number(id));
    case 'export':
      return noticesOfExport(deps, workspace, Number(id));
    case 'ask':
      return noticesOfAsk(deps, workspace, subject);
    case 'mine':
      return noticesOfOwnData(deps, workspace, subject);
    case 'person':
      return [
        {
          kind: 'home',
          key: `home:${id}`,
          person: id ?? '',
          view: homeView(await nextFor(deps.db, { workspace, person: id ?? '' }, null)),
        },
      ];
    case 'channel': {
      const told = await listToldFacts(deps.db, workspace);
      const place = { kind: 'channel' as const, channel: id ?? '' };
      return [{ kind: 'message', key: `hello:${id}`, place, message: helloMessage(told.has('roastDays')) }];
    }
    default:
      return [];
  }
}

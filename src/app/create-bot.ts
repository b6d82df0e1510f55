import { book } from '../commands/booking/book.js';
import type { Answer } from '../commands/common/answer.js';
import type { Bot } from '../commands/common/bot.js';
import type { Deps } from '../commands/common/deps.js';
import type { Feature, FormHandler, TapHandler } from '../commands/common/feature.js';
import type { Typed } from '../commands/common/intake.js';
import { afterFirstWord, firstWord } from '../commands/common/verbs.js';
import { digest } from '../commands/deciding/digest.js';
import { helloMessage } from '../commands/home/hello-message.js';
import { helpMessage } from '../commands/home/help-message.js';
import { nextFor } from '../commands/home/next.js';
import { homeView, nextMessage } from '../commands/home/next-message.js';
import { retryTap } from '../commands/home/retry.js';
import { house } from '../commands/house/house.js';
import { KEPT_TAPS, note } from '../commands/notes/note.js';
import { concerns, createReceiver } from '../commands/notes/received.js';
import { pour } from '../commands/pouring/pour.js';
import { noticesOfOwnData } from '../commands/privacy/privacy-file.js';
import { recipe } from '../commands/recipes/recipe.js';
import { ask } from '../commands/roasting/ask.js';
import { askReminderDue } from '../commands/roasting/ask-due.js';
import { noticesOfAsk } from '../commands/roasting/ask-notices.js';
import { shelf } from '../commands/shelf/shelf.js';
import { noticesOfNote, noticesOfTasting } from '../commands/table/notices-of.js';
import { table } from '../commands/table/table.js';
import { noticesOfExport } from '../commands/tallying/export.js';
import { tally } from '../commands/tallying/tally.js';
import { words } from '../commands/words/words.js';
import { nearestWord } from '../domain/measure/nearest-word.js';
import { mrkdwn } from '../kit/escape.js';
import type { Notice } from '../kit/notice.js';
import { KindRefusal } from '../runtime/errors.js';
import { markChanged } from '../store/changed.js';
import { listToldFacts } from '../store/house.js';

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
    keepsTap: (tap) => KEPT_TAPS.has(tap.action) && tap.form === null,
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
    receiver: (deps, workspace) => createReceiver(deps, workspace, typed),
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

import type { Answer, Bot, Deps, Feature, FormDoor, Subject, TapDoor } from '../commands/common/bot.js';
import { afterFirstWord, firstWord, type Typed } from '../commands/common/intake.js';
import { nextMessage } from '../commands/home/home-messages.js';
import { nextFor } from '../commands/home/next.js';
import { concerns, handleReceived } from '../commands/notes/received.js';
import { nearestWord } from '../domain/measure/nearest-word.js';
import { mrkdwn } from '../kit/escape.js';
import { UserError } from '../runtime/errors.js';
import { markChanged } from '../store/changed.js';
import { listFeatures, verbsOf } from './features.js';

/** The bot: finds the verb, button, form or subject that was meant and hands over to its feature. */
export function createBot(features: readonly Feature[] = listFeatures()): Bot {
  const verbs = new Map(verbsOf(features).map((verb) => [verb.name, verb]));
  const taps = new Map<string, TapDoor>(features.flatMap((feature) => Object.entries(feature.taps)));
  const forms = new Map<string, FormDoor>(features.flatMap((feature) => Object.entries(feature.forms)));
  const subjects = new Map<string, Subject>(features.flatMap((feature) => Object.entries(feature.subjects)));
  const subjectOf = (subject: string) => subjects.get(subject.split(':')[0] ?? '');

  async function typed(deps: Deps, said: Typed): Promise<Answer> {
    const word = firstWord(said.words);
    if (word === '') return { message: nextMessage(await nextFor(deps.db, said.who, said.channel)) };
    const verb = verbs.get(word);
    if (!verb) throw unknownWord(word, said);
    return verb.run(deps, { ...said, words: afterFirstWord(said.words) });
  }

  function unknownWord(word: string, said: Typed): UserError {
    const near = nearestWord(word, [...verbs.keys()]);
    const example = near === null ? undefined : verbs.get(near)?.example;
    const instead = example
      ? `Did you mean \`${example}\`?`
      : 'Type `/spoon help` for every word with an example.';
    const where =
      said.threadTs === null ? '' : ' Notes need no command: reply under the cup without naming me.';
    return new UserError(`I do not know the word “${mrkdwn(word)}”.${where}`, instead);
  }

  return {
    typed,
    async tapped(deps, tap) {
      const door = taps.get(tap.action.replace(/#.*$/, ''));
      if (!door)
        throw new UserError('That button is from an older message.', 'Type `/spoon` to see what is next.');
      return door.run(deps, tap);
    },
    async submitted(deps, submission) {
      const door = forms.get(submission.form.callback);
      if (!door) throw new UserError('That form is from an older version of me.', 'Open it again.');
      return door.run(deps, submission);
    },
    concerns,
    received: (deps, received) =>
      handleReceived(deps, received, { typed, isVerb: (words) => verbs.has(firstWord(words)) }),
    async due(deps, reminder) {
      const due = subjectOf(reminder.subject)?.due;
      if (due) await due(deps, reminder);
      else await markChanged(deps.db, reminder.workspace, reminder.subject, deps.clock.now());
    },
    notices: async (deps, workspace, subject) =>
      (await subjectOf(subject)?.notices(deps, workspace, subject)) ?? [],
  };
}

import type { ModalView } from '@slack/types';
import { counted } from '../../domain/measure/plain-list.js';
import { formatGrams } from '../../domain/measure/weight.js';
import { cupRatio, ratioCups, type TableSetting } from '../../domain/record/table-setting.js';
import { cupName, tastingName, USUAL_BATCH_MG } from '../../domain/record/tasting.js';
import type { TableResult } from '../../domain/result/table-result.js';
import { context, section } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import { checkInput, form, selectInput, textInput } from '../../kit/form.js';
import { reasonSentences, standingBlocks, verdictWords } from '../tallying/verdict-words.js';

export const DECIDE_FORM = 'digest.decide';

type DecideFormStart = {
  readonly setting: TableSetting;
  readonly result: TableResult;
  readonly batchMg: number;
  /** Notes whose writers have not said which cup they meant. */
  readonly withoutCup: number;
  readonly maySignOff: boolean;
};

/** The host sees what the table found, and decides. */
export function decideForm({ setting, result, batchMg, withoutCup, maySignOff }: DecideFormStart): ModalView {
  const { decision } = result;
  const choices = ratioCups(setting.cups).map((cup) => ({
    label: `${cupName(cup)} · ${cupRatio(cup, setting.recipe)}`,
    value: String(cup.id),
  }));
  const { headline, luck } = verdictWords(setting, result);
  return form(
    DECIDE_FORM,
    `Decide ${tastingName(setting.tasting)}`,
    'Decide and post',
    [
      section(`*${mrkdwn(headline)}*${luck === null ? '' : `\n${mrkdwn(luck)}`}`),
      ...standingBlocks(setting, result),
      ...reasonSentences(setting, decision).map((line) => context(mrkdwn(line))),
      ...(withoutCup > 0
        ? [
            context(
              `${counted(withoutCup, 'note names', 'notes name')} no cup and ${withoutCup === 1 ? 'is' : 'are'} not counted: the writers were asked.`,
            ),
          ]
        : []),
      selectInput('winner', 'The ratio to go on with', choices, {
        hint: 'As the table found it, unless you choose otherwise: the digest then says so.',
        initial: decision.winner,
      }),
      textInput('batch', 'Finished batch for the production note', {
        initial: formatGrams(batchMg),
        hint: `Like ${formatGrams(USUAL_BATCH_MG)}`,
        limit: 20,
      }),
      textInput('remarks', 'A word of yours', { optional: true, lines: true, limit: 500 }),
      ...(maySignOff
        ? [
            checkInput(
              'sign',
              'Recipe',
              [{ label: 'Sign off: make it the next version of the recipe', value: 'sign' }],
              { optional: true },
            ),
          ]
        : []),
    ],
    { tasting: setting.tasting.id },
  );
}

import {
  type PlacingBesideTable,
  placingSentence,
  type TasterBesideTable,
  tasterSentences,
} from '../../domain/panel/beside-table.js';
import { coffeeName, type TableSetting } from '../../domain/record/table-setting.js';
import { tastingName } from '../../domain/record/tasting.js';
import { context, section, sections } from '../../kit/blocks.js';
import { mrkdwn } from '../../kit/escape.js';
import type { Notice } from '../../kit/notice.js';
import { ratioName } from './verdict-words.js';

/** Who wrote less has too little to set beside the table. */
const FEWEST_MENTIONS = 3;

/**
 * To each taster alone, once the table is decided: how their notes and their first choice sat beside the table's.
 * Nobody is ranked and nobody else named.
 *
 * @param mentions counted mentions by taster
 * @param choices of those who put a ratio first
 */
export function besideNotices(
  setting: TableSetting,
  tasters: readonly TasterBesideTable[],
  mentions: ReadonlyMap<string, number>,
  choices: readonly PlacingBesideTable[],
): readonly Notice[] {
  const { tasting, recipe } = setting;
  const title = `${tastingName(tasting)} · ${recipe.name}: your notes beside the table’s`;
  return tasters
    .filter(({ taster }) => (mentions.get(taster) ?? 0) >= FEWEST_MENTIONS)
    .map((beside) => {
      const nameOfCup = (id: string) => besideName(setting, id);
      const said = [
        ...tasterSentences(beside, nameOfCup),
        ...choices
          .filter(({ taster }) => taster === beside.taster)
          .map((choice) => placingSentence(choice, nameOfCup)),
      ];
      return {
        kind: 'message',
        key: `beside:${tasting.id}:${beside.taster}`,
        place: { kind: 'direct', person: beside.taster },
        message: {
          text: mrkdwn(`${title}. ${said.join(' ')}`),
          blocks: [
            section(`*${mrkdwn(title)}*`),
            ...sections(said.map(mrkdwn)),
            context('Only you get this. It is no score: tasters differ, and a table needs that.'),
          ],
        },
      };
    });
}

function besideName(setting: TableSetting, id: string): string {
  const cup = setting.cups.find((held) => String(held.id) === id);
  return cup?.kind === 'component'
    ? coffeeName(setting.coffees, cup.parts[0]?.coffeeId ?? 0)
    : ratioName(setting, id);
}

import { plainList } from '../../domain/measure/plain-list.js';
import type { TableBrief } from '../../domain/record/table-brief.js';
import type { TableSetting } from '../../domain/record/table-setting.js';
import { mrkdwn } from '../../kit/escape.js';
import { shortName } from './verdict-words.js';

/**
 * The host's brief beside liking: which ratio is nearest, by how many tasters on each wish, and what of the brief
 * was not understood. mrkdwn, to be shown apart from the verdict.
 */
export function briefLines(setting: TableSetting, brief: TableBrief): readonly string[] {
  const asked = `“${mrkdwn(brief.words)}”`;
  if (brief.lines.length === 0)
    return [
      `The brief ${asked} names no flavour I know, so I cannot set the ratios beside it. Words like “chocolate, heavy body, no sourness” work.`,
    ];
  const nearest = brief.view.ratios.filter(({ id }) => brief.view.best.includes(id));
  const said = nearest.map((ratio) => `*${shortName(setting, ratio.id)}*, ${wishWords(ratio, brief)}`);
  const lines = [
    said.length === 0
      ? `Beside the brief ${asked}: nobody has noted a ratio yet.`
      : `Nearest to the brief ${asked}: ${said.join('; level with it ')}. A second view, no part of the verdict.`,
  ];
  if (brief.notUnderstood.length > 0)
    lines.push(
      `I did not understand ${plainList(brief.notUnderstood.map((words) => `“${mrkdwn(words)}”`))} of it.`,
    );
  return lines;
}

/** How well each ratio meets the brief, best first: "E 83 %: chocolate 5 of 6 …"; one nobody noted says so. */
export function briefByRatio(setting: TableSetting, brief: TableBrief): readonly string[] {
  if (brief.lines.length === 0) return [];
  return brief.view.ratios.map((ratio) => {
    const name = mrkdwn(shortName(setting, ratio.id));
    if (ratio.met === null) return `• ${name}: nobody noted it`;
    return `• ${name} ${Math.round(100 * ratio.met)} %: ${wishWords(ratio, brief)}`;
  });
}

/** "chocolate 5 of 7, heavy body 4 of 7, no sourness 7 of 7", in the host's own words. */
function wishWords({ lines }: TableBrief['view']['ratios'][number], { inOwnWords }: TableBrief): string {
  return lines
    .map(({ attribute, want, tasters, noted }) => {
      const named = `${want === 'absent' ? 'no ' : ''}${attribute}`;
      return `${mrkdwn(inOwnWords.get(attribute) ?? named)} ${tasters} of ${noted}`;
    })
    .join(', ');
}

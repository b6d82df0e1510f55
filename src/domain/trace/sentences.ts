import { plainList } from '../measure/plain-list.js';
import type { AttributeTrace, BlendTrace } from './trace.js';

/** How a cup is called in a sentence: a component by its coffee. */
type NameOfCup = (cup: string) => string;

/** Something a barista can say, with the counts that stand behind it. */
export type TraceSentence = {
  readonly attribute: string;
  readonly status: AttributeTrace['status'];
  readonly text: string;
};

const SAID_FIRST = new Map<AttributeTrace['status'], number>([
  ['carried', 0],
  ['lifted', 1],
  ['new', 2],
  ['quieted', 3],
]);

function capitalised(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

function inComponents(trace: AttributeTrace, nameOfCup: NameOfCup): string {
  const counts = trace.carriedBy.flatMap((cup) => {
    const share = trace.components.find((component) => component.cup === cup);
    return share === undefined ? [] : [`${share.tasters} of ${share.noted} in ${nameOfCup(cup)} alone`];
  });
  return plainList(counts);
}

/** "7 of 9 find it", "1 of 9 finds it", "nobody finds it". */
function finders({ tasters, noted }: AttributeTrace['blend']): string {
  if (tasters === 0) return 'nobody finds it';
  return `${tasters} of ${noted} ${tasters === 1 ? 'finds' : 'find'} it`;
}

/** Percentage of the blend that the carrying components make up, to the whole point. */
function weightOf({ components, carriedBy }: AttributeTrace): number {
  const carried = components.filter(({ cup }) => carriedBy.includes(cup));
  return Math.round(100 * carried.reduce((sum, { weight }) => sum + weight, 0));
}

function sentenceFor(trace: AttributeTrace, nameOfCup: NameOfCup): string | null {
  const word = capitalised(trace.attribute);
  const found = finders(trace.blend);
  const source = plainList(trace.carriedBy.map(nameOfCup));
  const alone = inComponents(trace, nameOfCup);
  switch (trace.status) {
    case 'carried':
      return `${word} comes from ${source}: ${found} in the blend, ${alone}.`;
    case 'lifted':
      return `${word} comes through beyond its share: ${found} in the blend, ${alone}, which ${trace.carriedBy.length === 1 ? 'is' : 'are'} ${weightOf(trace)} % of it.`;
    case 'quieted':
      return `${word} goes quiet in the blend: ${found} there, ${alone}.`;
    case 'new':
      return `${word} is new in the blend: ${found} there, nobody in a component alone.`;
    case 'within chance':
      return null;
  }
}

/**
 * The sentences of a trace, what comes through first and what goes quiet last, the most shared first within each.
 * Attributes within chance yield none.
 */
export function traceSentences(trace: BlendTrace, nameOfCup: NameOfCup): readonly TraceSentence[] {
  return trace.attributes
    .flatMap((attribute) => {
      const text = sentenceFor(attribute, nameOfCup);
      return text === null ? [] : [{ attribute: attribute.attribute, status: attribute.status, text }];
    })
    .sort((a, b) => (SAID_FIRST.get(a.status) ?? 9) - (SAID_FIRST.get(b.status) ?? 9));
}

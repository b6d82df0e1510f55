import { plainList } from '../../domain/measure/plain-list.js';
import type { TableResult } from '../../domain/record/table-result.js';
import { coffeeName, cupContents, type TableSetting } from '../../domain/record/table-setting.js';
import { traceSentences } from '../../domain/trace/sentences.js';
import type { AttributeTrace } from '../../domain/trace/trace.js';
import { mrkdwn } from '../../kit/escape.js';

const MOST_SENTENCES = 5;
const MOST_AT_COUNTER = 3;

/** What to say about the blend: one sentence for the counter, then where each flavour comes from, with its counts. mrkdwn. */
export function sayings(setting: TableSetting, { trace, tally }: TableResult): readonly string[] {
  if (!trace) return ['No ratio was tasted.'];
  const nameOfCup = (id: string) => cupWords(setting, id);
  const worded = new Map(traceSentences(trace, nameOfCup).map((one) => [one.attribute, one.text]));
  const kept = withoutGeneral(trace.attributes.filter(({ attribute }) => worded.has(attribute)));
  if (kept.length === 0) return ['Too few shared words to say which coffee a flavour comes from.'];
  const familyOf = familiesOf(tally);
  const inOrder = [...worded.keys()].filter((attribute) =>
    kept.some((entry) => entry.attribute === attribute),
  );
  return [
    ...counterLine(
      kept.filter(({ attribute }) => isFlavour(familyOf.get(attribute))),
      nameOfCup,
    ),
    ...inOrder.slice(0, MOST_SENTENCES).map((attribute) => `• ${mrkdwn(worded.get(attribute) ?? '')}`),
  ];
}

/** "Chocolate comes from Chirinos" adds nothing to "dark chocolate comes from Chirinos". */
function withoutGeneral(traces: readonly AttributeTrace[]): readonly AttributeTrace[] {
  const sources = ({ carriedBy }: AttributeTrace) => carriedBy.join();
  return traces.filter(
    (general) =>
      !traces.some(
        (special) =>
          special.attribute.endsWith(` ${general.attribute}`) && sources(special) === sources(general),
      ),
  );
}

/** Families of the vocabulary that are no flavours: "sweet" or "full body" has no place in "strawberry from …". */
const NO_FLAVOURS: ReadonlySet<string> = new Set([
  'main tastes',
  'sweetness',
  'acidity',
  'body',
  'mouthfeel',
  'aftertaste',
  'overall',
  'other',
]);

function familiesOf({ cups }: TableResult['tally']): ReadonlyMap<string, string> {
  return new Map(
    cups.flatMap((cup) => cup.attributes.map(({ attribute, family }) => [attribute, family] as const)),
  );
}

function isFlavour(family: string | undefined): boolean {
  return family !== undefined && !NO_FLAVOURS.has(family);
}

/** What a barista can say as it is: the most shared flavour of each coffee that comes through. */
function counterLine(
  traces: readonly AttributeTrace[],
  nameOfCup: (id: string) => string,
): readonly string[] {
  const spoken = new Set<string>();
  const said = traces.flatMap(({ status, attribute, carriedBy }) => {
    const from = plainList(carriedBy.map(nameOfCup));
    const comesThrough = status === 'carried' || status === 'lifted';
    if (!comesThrough || from === '' || spoken.has(from)) return [];
    spoken.add(from);
    return [`${attribute} from ${from}`];
  });
  if (said.length === 0) return [];
  return [`At the counter: *“${mrkdwn(capitalised(said.slice(0, MOST_AT_COUNTER).join(', ')))}.”*`];
}

function capitalised(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

function cupWords(setting: TableSetting, id: string): string {
  const cup = setting.cups.find((held) => String(held.id) === id);
  if (!cup) return 'a cup';
  return cup.kind === 'component'
    ? coffeeName(setting.coffees, cup.parts[0]?.coffeeId ?? 0)
    : cupContents(cup, setting);
}

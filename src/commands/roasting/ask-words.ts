import { type ParsedWeight, parseWeight } from '../../domain/measure/weight.js';
import { type ParsedDay, parseDay } from '../../domain/when/parse-when.js';

/** A typed ask taken apart: what is left is the coffee's name. */
export type AskWords = {
  readonly name: string;
  readonly weight: ParsedWeight | null;
  readonly weightSaid: string;
  readonly day: ParsedDay | null;
};

const WEIGHT =
  /(?:^|\s)((?:\d[\d.,]*\s*(?:kg|kilos?|g|gr|grams?|oz|ounces?|lbs?|pounds?)\b\s*)+|\d[\d.,]*(?=\s|$))/iu;
const DAY = /(?:^|\s)(?:by|on|for|until|before)\s+(.+)$/iu;

/** Reads `Chirinos 400g by thu`, in any order of grams and day; quotes around the name do not matter. */
export function readAskWords(words: string, now: Date, zone: string): AskWords {
  const straight = words.replace(/["\u201c\u201d\u201e\u00ab\u00bb]/gu, ' ').trim();
  const weighed = WEIGHT.exec(straight);
  const weightSaid = (weighed?.[1] ?? '').trim();
  const unweighed = weighed ? cut(straight, weighed) : straight;
  const dated = DAY.exec(unweighed);
  const day = dated?.[1] === undefined ? null : parseDay(dated[1], now, zone);
  const name = (dated ? cut(unweighed, dated) : unweighed).replace(/\s+/gu, ' ').trim();
  return { name, weight: weightSaid === '' ? null : parseWeight(weightSaid), weightSaid, day };
}

function cut(text: string, match: RegExpExecArray): string {
  return `${text.slice(0, match.index)} ${text.slice(match.index + match[0].length)}`.trim();
}

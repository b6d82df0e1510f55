import { changed, type FactEntry, unclear } from './fact-entry.js';

const MENTION = /<@([UW][A-Z0-9]+)(?:\|[^>]*)?>|\b([UW][A-Z0-9]{4,})\b/gu;

/** Facts about people and places in Slack, and how a table is set when nothing is said. */
export const PEOPLE_FACTS: readonly FactEntry[] = [
  {
    name: 'roasterPerson',
    label: 'roaster',
    alsoCalled: ['roaster person', 'who roasts'],
    example: '@bram',
    read: (words) => {
      const [person, another] = peopleIn(words);
      if (person === undefined || another !== undefined)
        return unclear(words, 'Name one person, like @bram.');
      return changed({ roasterPerson: person });
    },
    show: (house) => (house.roasterPerson === null ? 'nobody yet' : `<@${house.roasterPerson}>`),
  },
  {
    name: 'stewards',
    label: 'stewards',
    alsoCalled: ['steward'],
    example: '@ines @bram',
    read: (words) => {
      if (/^(?:none|nobody|no)$/iu.test(words.trim())) return changed({ stewards: [] });
      const people = peopleIn(words);
      return people.length > 0
        ? changed({ stewards: [...people] })
        : unclear(words, 'Name people, like @ines @bram.');
    },
    show: (house) =>
      house.stewards.length === 0 ? 'nobody' : house.stewards.map((person) => `<@${person}>`).join(' '),
  },
  {
    name: 'channel',
    label: 'channel',
    alsoCalled: ['home channel'],
    example: '#tasting-table',
    read: (words) => {
      const id = /<#([CG][A-Z0-9]+)(?:\|[^>]*)?>|\b([CG][A-Z0-9]{4,})\b/u.exec(words);
      const channel = id?.[1] ?? id?.[2];
      return channel === undefined
        ? unclear(words, 'Name a channel, like #tasting-table.')
        : changed({ channel });
    },
    show: (house) => (house.channel === null ? 'the channel you book in' : `<#${house.channel}>`),
  },
  {
    name: 'blindByDefault',
    label: 'blind',
    alsoCalled: ['codes'],
    example: 'yes',
    read: (words) => {
      if (/^(?:yes|on|always|blind|codes)$/iu.test(words.trim())) return changed({ blindByDefault: true });
      if (/^(?:no|off|never|open|letters)$/iu.test(words.trim())) return changed({ blindByDefault: false });
      return unclear(words, 'Say yes for codes or no for letters.');
    },
    show: (house) =>
      house.blindByDefault ? 'codes unless a booking says otherwise' : 'letters unless a booking says blind',
  },
  {
    name: 'formatByDefault',
    label: 'format',
    alsoCalled: ['table format'],
    example: 'cupping',
    read: (words) => {
      const said = words.trim().toLowerCase();
      if (said === 'cupping' || said === 'brewed') return changed({ formatByDefault: said });
      return unclear(words, 'Say cupping or brewed.');
    },
    show: (house) => house.formatByDefault,
  },
];

function peopleIn(words: string): readonly string[] {
  const ids = [...words.matchAll(MENTION)].map((match) => match[1] ?? match[2] ?? '');
  return [...new Set(ids)];
}

import type { Vocabulary } from '../notes/vocabulary.js';
import type { NotedMention, ReadNote } from '../record/note.js';
import type { AttributeTree, CountedMention, CountedNote, Placing } from './counted.js';

/** Notes that count: not late, and not waiting for their writer to say which cup was meant. */
export function countingNotes(notes: readonly ReadNote[]): readonly ReadNote[] {
  return notes.filter((note) => !note.late && !note.reading.needsCup);
}

/** Notes as the tally counts them; cups and tasters by id, in the order of writing. */
export function countedNotes(notes: readonly ReadNote[]): readonly CountedNote[] {
  return notes.map((note) => ({
    taster: note.person,
    at: writtenAt(note),
    id: writtenOrder(note),
    mentions: mentionsWithCup(note.reading.mentions),
  }));
}

/** Mentions whose cup is known. Thousands are counted at a large table, so nothing is copied that is not counted. */
function mentionsWithCup(mentions: readonly NotedMention[]): readonly CountedMention[] {
  const counted: CountedMention[] = [];
  for (const { cupId, attribute, polarity, intensity, doubt } of mentions) {
    if (cupId !== null) counted.push({ cup: String(cupId), attribute, polarity, intensity, doubt });
  }
  return counted;
}

/** What tasters said about the order and their liking of the cups. */
export function placingsIn(notes: readonly ReadNote[]): readonly Placing[] {
  return notes.flatMap((note) => {
    const { order, liking, worst } = note.reading;
    if (order === null && liking.size === 0 && worst.length === 0) return [];
    return [
      {
        taster: note.person,
        at: writtenAt(note),
        id: writtenOrder(note),
        order: order?.map((group) => group.map(String)) ?? null,
        liking: Object.fromEntries([...liking].map(([cup, value]) => [String(cup), value])),
        worst: worst[0] === undefined ? null : String(worst[0]),
      },
    ];
  });
}

/** The vocabulary's tree, as the tally rolls it up. */
export function attributeTree(vocabulary: Vocabulary): AttributeTree {
  return {
    familyOf: (attribute) => vocabulary.attributes.get(attribute)?.family ?? attribute,
    ancestorsOf: (attribute) => {
      const entry = vocabulary.attributes.get(attribute);
      if (!entry) return [];
      return [entry.subfamily, entry.family].filter(
        (name): name is string => name !== null && name !== attribute,
      );
    },
  };
}

/** Slack's message ids carry the second of writing; an edit keeps the place of the words it corrects. */
function writtenAt(note: ReadNote): number {
  const seconds = Number.parseFloat(note.ts);
  return Number.isFinite(seconds) ? seconds : note.receivedAt.getTime() / 1000;
}

function writtenOrder(note: ReadNote): string {
  return String(note.id).padStart(12, '0');
}

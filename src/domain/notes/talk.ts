import { longestExact, phraseList, treeOf, wordSet } from './phrases.js';
import { endsSentence, type Piece, splitWhere } from './piece.js';
import type { Token } from './tokenise.js';

/** One of these is enough to hear talk, where nothing says that something was tasted. */
const TALK_WORDS = wordSet(
  'fridge freezer counter kitchen cupboard drawer sink bin shelf shelves cellar courtyard roof bench',
  'desk reception store shop market supermarket bakery pub parking station train bus bridge traffic door',
  'doors window lights bulb wifi printer password whiteboard calendar invite invoice email doc sheet label',
  'labels scale timer grinder kettle boiler drum steam dishwasher ladder charger fuse gasket pump',
  'keys apron towel towels napkins gloves spoons spoon tray trays mug mugs chairs curtains vase notebook knife',
  'brought bring bringing ordered ordering orders grab buy bought deliver delivery delivered arrived',
  'arrive arrives forgot lent borrow borrowed share shared sent send shipped parcel parcels washed wash',
  'rinse wipe shift lunch dinner meeting tomorrow tonight yesterday today monday tuesday',
  'wednesday thursday friday saturday sunday noon oclock weekend birthday anniversary holiday vacation',
  'raffle customers customer guests guest landlord mum dad cat dog playlist music weather rain raining',
  'please pls thanks thank cheers hello hi hey bye congrats welcome brb everyone anyone someone',
  'somebody anybody who whos where wheres allergy allergic gluten vegan sandwiches sandwich pizza croissants',
  'pasta bowl bowls stock delivery crate crates pallet box boxes bags bar till display menu',
  'allowed closed closes closing booked booking launch event bank accounts phone message',
  'careful hire stuck chipped broken repair worn crooked replace replaced fix fixed refill restock empty',
  'form forms recycling straws opener candles alarm alarms idea flyer mood shout photos photo banner budget contract neighbours neighbour signal playlist handover',
  'leftovers snack snacks ate eat eating bake cook cooking recipe night morning',
);

/** Phrases of requests and errands, as runs of words. */
const TALK_PHRASES = treeOf({
  said: phraseList(
    'can you, could you, would you, can someone, could someone, can we, could we, shall we, lets go, do we, are we, is there',
    'does anyone, has anyone, have we, did you, did anyone, dont forget, remember to, make sure, heads up, watch your',
    'help yourselves, pick up, picked up, on order, in stock, ran out, run out, running out, on the table, we need',
    'i need, you need, i left, someone left, i put, i brought, i made, im making, im going, im getting, ill be, i will, i can',
    'on my way, be right back, see you, well done, good job, great job, nice one, are on, is on, goes on, go in, goes in',
    'is in the, are in the, in here, out there, who wants, anyone for, what time, which channel, thank you, is for, are for',
    'at one, at two, at three, at four, at five, at six, at seven, at eight, at nine, at ten, at eleven, at twelve',
    'comes at, is dying, is missing, are back, is full, soup of, full stop, clear as mud, bold move, stale news, old news',
    'flat tyre, flat tire, spicy take, im home, the books, put them, put it, take it, take them, keep it',
    'break the crust, earth to, long black, long blacks, flat white, flat whites, dont be, in a sour, thats bananas, of you',
    'is mine, are mine, is out, is low, is down, is up, is due, for sale, help yourself, have you, they are, were out',
  ),
});

/** Words that say something was tasted or smelled. */
const TASTING_WORDS = wordSet(
  'flavor flavors flavour flavours flavored flavoured taste tastes tasted tasting notes note finish aftertaste',
  'body mouthfeel texture palate tongue sip sips undertones undertone aroma nose cup acidity sweetness',
  'bitterness hint hints cooled cools cooling drinkable favorite favourite profile coffee coffees fruity vibe vibes',
  'reminds reminded reminiscent palette pallet drink drinking drinker preference tasting mouth round',
);

/** Words that follow an attribute in a note as readily as anywhere ("heavy on the palate", "bright for me"). */
const EASY_FOLLOWERS = wordSet(
  'to for in on as once even at when all end way me over around though here drinker person fan coffees coffee cup ish upfront up front back behind',
);

/** Turns of phrase that speak of tasting. */
const TASTING_PHRASES = treeOf({
  said: phraseList(
    'for me, to me, back end, at first, over time, as it, at the end, too much, me of, made me think, in the beginning',
    'at the beginning, to start, at times, kind of, sort of, my preference',
  ),
});

const ASIDE = new Set([':', '(', ')']);
/** Other words for each attribute from which on a sentence is hardly a description. */
const CROWDED = 1.5;
const VERY_CROWDED = 3;

/**
 * Marks the pieces of sentences that are talk and no tasting: errands, places, people, times and requests
 * ("lemons are on the counter"), and sentences where an attribute's word only colours another thing ("a
 * rough guess, forty people"). A sentence that says something was tasted, or that names a cup, is heard as
 * tasting all the same.
 */
export function findTalk(pieces: readonly Piece[], tokens: readonly Token[]): readonly boolean[] {
  const sentences = splitWhere(pieces, (piece) => endsSentence(piece) && !ASIDE.has(piece.text));
  const listed = sentences.some(({ from, to }) => isList(pieces.slice(from, to)));
  const talk = new Array<boolean>(pieces.length).fill(false);
  for (const { from, to } of sentences) {
    const sentence = pieces.slice(from, to);
    if (!isList(sentence) && isTalk(sentence, tokens, listed)) talk.fill(true, from, to);
  }
  return talk;
}

/** Nothing but attributes and the words that go with them: a note, whatever else the message says. */
function isList(sentence: readonly Piece[]): boolean {
  return (
    sentence.some(({ kind }) => kind === 'attribute') &&
    sentence.every(({ kind }) => kind === 'attribute' || kind === 'cue' || kind === 'mark')
  );
}

function isTalk(sentence: readonly Piece[], tokens: readonly Token[], listed: boolean): boolean {
  const attributes = sentence.filter(({ kind }) => kind === 'attribute').length;
  if (attributes === 0 || sentence.some(({ kind }) => kind === 'cup')) return false;
  const weighed = sentence.some(({ kind }, i) => kind === 'attribute' && isDegree(sentence[i - 1]));
  let talk = !listed && coloursOtherThings(sentence, attributes) ? 1 : 0;
  let tasting = weighed ? 1 : 0;
  const end = sentence.at(-1)?.to ?? 0;
  const wordAt = (i: number) => (i < end ? (tokens[i]?.text ?? null) : null);
  for (let i = sentence[0]?.from ?? 0; i < end; i += 1) {
    const word = tokens[i]?.text ?? '';
    if (TALK_WORDS.has(word)) talk += 1;
    if (TASTING_WORDS.has(word)) tasting += 1;
    if (longestExact(TALK_PHRASES, i, wordAt) !== null) talk += 1;
    if (longestExact(TASTING_PHRASES, i, wordAt) !== null) tasting += 1;
  }
  return talk > tasting;
}

function isDegree(piece: Piece | undefined): boolean {
  return piece?.cue === 'strong' || piece?.cue === 'slight' || piece?.cue === 'more' || piece?.cue === 'most';
}

/** Whether the attributes stand right before other things, in a sentence with many words that are no taste's. */
function coloursOtherThings(sentence: readonly Piece[], attributes: number): boolean {
  const crowding = sentence.filter(isOther).length / attributes;
  const followers = sentence.filter((piece, i) => isOther(piece) && sentence[i - 1]?.kind === 'attribute');
  const hard = followers.some(({ text }) => !EASY_FOLLOWERS.has(text));
  return (hard && crowding >= CROWDED) || (followers.length > 0 && crowding >= VERY_CROWDED);
}

/** A word or number that is no taste's. */
function isOther({ kind }: Piece): boolean {
  return kind === 'word' || kind === 'number';
}

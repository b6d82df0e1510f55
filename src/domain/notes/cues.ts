import { type PhraseTree, phraseList, treeOf } from './phrases.js';

const NOT = phraseList('not, isnt, wasnt, arent, werent, doesnt, didnt, dont, aint, never');
const EXCESS = phraseList('too, overly, very, super, that, so, extremely, terribly, highly, much, a lot of');
const HEDGED = NOT.flatMap((not) =>
  EXCESS.flatMap((excess) => [`${not} ${excess}`, `${not} taste ${excess}`]),
);
const NOT_AS = NOT.flatMap((not) => [`${not} as`, `${not} nearly as`, `${not} quite as`, `${not} half as`]);

/**
 * What a phrase does in a note besides naming an attribute, and the phrases. `deny` opens a denial ("no",
 * "lacks"), `denyNot` one of a statement ("not", "isn't"); `hedged` is "not too"; `transparent` words change
 * nothing ("notes of"); `link` words tie a subject to what is said of it ("is", "tastes"). A phrase listed
 * twice has the cue that stands first here.
 */
const PHRASES = {
  deny: phraseList(
    'no, without, lacks, lacking, lacked, lack of, lack, zero, neither, nor, free of, devoid of',
    'absence of, none of the, nothing, missing, minus, sans, cant taste, cannot taste, couldnt taste',
    'cant find, couldnt find, cant detect, couldnt detect, cant pick up, couldnt pick up, couldnt get',
    'cant get, couldnt discern, no sign of, no hint of, no trace of, nowhere near, not any',
    'not a hint of, not a trace of, hard to pull out, hard to find, hard to taste, hard to detect, hard to pick out',
    'hard to pick up, hard to get, difficult to find, difficult to taste, difficult to detect, difficult to pick out',
    'difficult to pick up, struggle to find, struggle to taste, struggled to find, struggled to taste',
  ),
  denyNot: [
    ...NOT,
    ...phraseList(
      'not at all, not really, not even, not particularly, not quite, cant say, couldnt say, cannot say, wouldnt describe, wouldnt say, wouldnt call it',
    ),
  ],
  hedged: [...HEDGED, ...phraseList('hardly any, barely any, not many, nothing too, nothing overly')],
  affirm: phraseList(
    'dont dislike, didnt dislike, dont dislike the, didnt dislike the, dont hate the, not unpleasant',
    'not only, not just, no doubt, no question, not unlike, not bad, not my, not for me, not a big fan of, not a huge fan of, not the biggest fan of, not a fan of',
    'not a fan of the, dont like, dont like the, didnt like, didnt like the, dont love, didnt love',
    'dont mind, didnt mind, didnt care for, dont care for, dont enjoy, didnt enjoy, dont hate',
    'didnt hate, not sure why, no idea why, no matter, not necessarily',
  ),
  absent: phraseList('absent, nonexistent, non existent, none, is missing, was missing'),
  slight: phraseList(
    'faint note, faint notes, faint note of, faint notes of, subtle note of, subtle notes of, light notes of, mild notes of',
    'could use more, needs more, wish it had more, could do with more, not enough, needed more, wanted more',
    'slight, slightly, a hint of, hint of, hints of, hint, a hint, hints, a touch of, touch of',
    'a touch, a bit of, bit of, a bit, a little bit, a little bit of, a little, little bit, little',
    'some slight, faintly, lightly, mildly, mildy, somewhat, a trace of, trace of, traces of, trace',
    'whisper of, a whisper of, barely, hardly, a dash of, dash of, splash of, a splash of, tinge of',
    'a tinge of, suggestion of, a suggestion of, a tad, tad, ever so slightly, a tiny bit, tiny bit',
    'tiny bit of, a tiny bit of, minimal, vaguely, softly, gently, subtly, delicately, whiff of',
    'a whiff of, undertones of, undertone of, an undertone of, not much, minor, mild hint of, low',
    'a smidge, smidge of, a smidge of, some mild, very little, only slightly, just a hint of',
  ),
  strong: phraseList(
    'very, super, so, really, extremely, lots of, lot of, a lot of, tons of, ton of, a ton of',
    'loads of, plenty of, intensely, strongly, too, way too, overly, incredibly, highly, overwhelming',
    'overwhelmingly, overpoweringly, dominant, prominent, pronounced, huge, massive, so much',
    'punch of, explosion of, full of, packed with, insanely, mega, ultra, hugely, heavily, deeply',
    'wildly, crazy, seriously, distinctly, distinct, obvious, loud, blast of, burst of, bursting with',
    'dripping with, heaps of, bags of, high, excessively, exceptionally, absolutely, ridiculously',
    'unbelievably, terribly, wayyy, soooo, sooo, veryyy, very very, much',
  ),
  afterSlight: phraseList(
    'undertone, undertones, in the background, overtone, ish, at the edges, whisper, hinted',
  ),
  afterStrong: phraseList('bomb, forward, heavy, overload, explosion, punch, city, all the way, throughout'),
  doubt: phraseList(
    'maybe, perhaps, possibly, probably, i think, i guess, kind of, kinda, sort of, sorta, almost',
    'might be, could be, may be, something like, seems like, not sure if, not sure, im not sure',
    'i believe, cant tell if, cant decide if, dont know if, is it, guessing, nearly, borderline',
    'unsure, unsure of, unsure about, bordering on, verging on, perchance, or is it, i want to say, quasi',
  ),
  more: phraseList(
    'more, much more, way more, a bit more, a little more, slightly more, far more, even more',
  ),
  less: phraseList(
    'less, much less, way less, a bit less, a little less, slightly less, far less, even less, fewer',
  ),
  most: phraseList('most, the most, least, the least'),
  equal: [...NOT_AS, ...phraseList('about as, just as, equally')],
  than: phraseList('than, compared to, compared with, in comparison to, relative to, versus, vs'),
  contrast: phraseList(
    'but, just, only, however, though, although, yet, instead, rather, still, while, whereas, except',
    'otherwise, then, because, since, which, with, more like',
  ),
  and: phraseList('and, n, plus, also, as well as'),
  or: phraseList('or'),
  time: phraseList(
    'as time went on, as time goes on, as it went on, with time, as it sat, upon sitting, the cooler it got, it got the more',
    'as it cooled, as it cools, when cooled, when cool, when cold, when hot, as cooled, on cooling',
    'as the coffee cooled, as the coffee cools, as it warmed, cooled, cools, cooling, at first',
    'when warm, while warm, when warmer, still warm, when it was warm, when it was hot, when it was cold, when it cooled',
    'started off, starts off, start off, initially, over time, once cooled, hot, while hot, at the start, to start, later on',
  ),
  change: phraseList(
    'became, become, becomes, becoming, got, gets, getting, grew, grows, increased, increases',
    'increase, turned, turns, decreased, decrease, decreases',
  ),
  inert: phraseList(
    'my jam, hit or miss, blended coffee, blended coffees, overwhelming thought, soft palate, soft pallet, coffee jelly, sweetened coffee, sweetened coffees',
    'sweetener, sweeteners, sweetner, sweetners, light brown, dark brown, golden brown',
    'dont be salty, these beans, the beans, coffee beans, of beans, coffee bean, expiration date, sell by date, use by date, dry process',
    'dry processed, that rose, rose as it, leaves my, leaves a, leaves the, leaves you, leaves an, order more, the order form, cleaner than me',
    'coffee date, up to date, release date',
    'light roast, lighter roast, medium roast, med roast, lightest roast, light roasts, light roasted',
    'lighter roasts, medium roasts, light medium roast, medium dark roast, medium light roast',
    'natural roast, natural roasts, the roast, this roast, blonde roast, roast level, roast profile',
    'light coffee, lighter coffee, dark color, dark colour, darker color, darkest in color, color',
    'darkest in appearance, in color, light color, full flavored, full flavor, full flavour',
    'full flavoured, clear winner, clear favorite, clear favourite, burnt out, cool beans',
    'hot chocolate powder, sweet spot, nuts about, go nuts, going nuts, went nuts, salt of the earth',
    'spill the beans, piece of cake, cherry on top, rich and famous, apples to apples',
    'apples and oranges, full time, no sugar, sugar free, cup of tea, in a nutshell, roast date',
    'roast day, short notice, long day, long run, long story, long time, all day long, so long',
    'as long as, for a long time, in short, at the end of the day, light on, lights, half full',
    'full on, full set, in full, full cup, cup is full, clean up, to clean, cleaned, clean the',
    'clean cups, clean spoons, clean spoon, rough day, rough week',
  ),
  link: phraseList(
    'is, was, are, were, has, had, have, got, gets, get, tastes, taste, tasted, feels, felt, feel',
    'seems, seemed, looks, stays, stayed, remains, its, it, this, very well, be, being, been, that, i',
    'came, comes, started, starts, shows',
  ),
  transparent: phraseList(
    'flavor, flavors, flavour, flavours, note, notes, notes of, note of, tasting notes, tones, tone',
    'a, an, the, of, any, some, at all, kind, type, detectable, discernible, noticeable, real, like',
    'bits of, flavored, flavoured, aspect, aspects, quality, character, pleasant, nice, lovely, good',
    'great, pleasing, beautiful, indiscernible, quite, pretty, fairly, rather more, definite',
    'clear hint of, sense of, initial',
  ),
  liking: phraseList(
    'love, loved, like it, liked, enjoy, enjoyed, enjoyable, hate, hated, favorite, favourite',
    'delicious, tasty, yummy, yum, bad, gross, disgusting, best, better, worst, boring, interesting',
    'unpleasant, nasty, ok, okay, meh, fine, average, excellent, amazing, wonderful, fantastic',
    'awesome, drinkable, approachable, perfect, awful, terrible',
  ),
  body: phraseList('body, mouthfeel, mouth feel, texture, consistency'),
  finish: phraseList('finish, aftertaste, after taste, ending, finishes'),
  smell: phraseList('smell, smells, smelled, smelt, aroma, nose, fragrance, scent'),
} satisfies Readonly<Record<string, readonly string[]>>;

export type Cue = keyof typeof PHRASES;

/** The phrases that steer a reading, laid out for longest match. */
export const CUES: PhraseTree<Cue> = treeOf(PHRASES);

/** Every single word of a cue phrase. */
export const CUE_WORDS: ReadonlySet<string> = new Set(
  Object.values(PHRASES).flatMap((phrases) => phrases.flatMap((phrase) => phrase.split(' '))),
);

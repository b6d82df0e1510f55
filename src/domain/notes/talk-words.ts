import { emptyTree, type PhraseTree, plant } from './phrase-tree.js';

/** Words that mark talk about the day, the room, errands and people, and words that mark tasting. */
function words(...lines: readonly string[]): ReadonlySet<string> {
  return new Set(lines.join(' ').split(' '));
}

/** Runs of words, written with "_" between them, laid out for longest match. */
function phrases(...lines: readonly string[]): PhraseTree<true> {
  const tree = emptyTree<true>();
  for (const phrase of lines.join(' ').split(' ')) plant(tree, phrase.split('_'), true);
  return tree;
}

/** One of these is enough to hear talk, where nothing says that something was tasted. */
const TALK_WORDS = words(
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
const TALK_PHRASES = phrases(
  'can_you could_you would_you can_someone could_someone can_we could_we shall_we lets_go do_we are_we is_there',
  'does_anyone has_anyone have_we did_you did_anyone dont_forget remember_to make_sure heads_up watch_your',
  'help_yourselves pick_up picked_up on_order in_stock ran_out run_out running_out on_the_table we_need',
  'i_need you_need i_left someone_left i_put i_brought i_made im_making im_going im_getting ill_be i_will i_can',
  'on_my_way be_right_back see_you well_done good_job great_job nice_one are_on is_on goes_on go_in goes_in',
  'is_in_the are_in_the in_here out_there who_wants anyone_for what_time which_channel thank_you is_for are_for',
  'at_one at_two at_three at_four at_five at_six at_seven at_eight at_nine at_ten at_eleven at_twelve',
  'comes_at is_dying is_missing are_back is_full soup_of full_stop clear_as_mud bold_move stale_news old_news',
  'flat_tyre flat_tire spicy_take im_home the_books put_them put_it take_it take_them keep_it',
  'break_the_crust earth_to long_black long_blacks flat_white flat_whites dont_be in_a_sour thats_bananas of_you',
  'is_mine are_mine is_out is_low is_down is_up is_due for_sale help_yourself have_you they_are were_out',
);

/** Words that say something was tasted or smelled. */
const TASTING_WORDS = words(
  'flavor flavors flavour flavours flavored flavoured taste tastes tasted tasting notes note finish aftertaste',
  'body mouthfeel texture palate tongue sip sips undertones undertone aroma nose cup acidity sweetness',
  'bitterness hint hints cooled cools cooling drinkable favorite favourite profile coffee coffees fruity vibe vibes',
  'reminds reminded reminiscent palette pallet drink drinking drinker preference tasting mouth round',
);

/** Words that follow an attribute in a note as readily as anywhere ("heavy on the palate", "bright for me"). */
export const EASY_FOLLOWERS = words(
  'to for in on as once even at when all end way me over around though here drinker person fan coffees coffee cup ish upfront up front back behind',
);

/** Turns of phrase that speak of tasting. */
const TASTING_PHRASES = phrases(
  'for_me to_me back_end at_first over_time as_it at_the_end too_much me_of made_me_think in_the_beginning',
  'at_the_beginning to_start at_times kind_of sort_of my_preference',
);

/** What a word says of talk and tasting: by itself, and with the words after it. */
export type Heard = {
  readonly talk: boolean;
  readonly tasting: boolean;
  readonly talkStart: PhraseTree<true> | null;
  readonly tastingStart: PhraseTree<true> | null;
};

/** Every word that speaks of talk or tasting, or begins a phrase that does. */
export const HEARD: ReadonlyMap<string, Heard> = new Map(
  [...TALK_WORDS, ...TASTING_WORDS, ...TALK_PHRASES.next.keys(), ...TASTING_PHRASES.next.keys()].map(
    (word) => [
      word,
      {
        talk: TALK_WORDS.has(word),
        tasting: TASTING_WORDS.has(word),
        talkStart: TALK_PHRASES.next.get(word) ?? null,
        tastingStart: TASTING_PHRASES.next.get(word) ?? null,
      },
    ],
  ),
);

function words(...lines: readonly string[]): ReadonlySet<string> {
  return new Set(lines.join(' ').split(' '));
}

/** Words that describe a taste but fit no attribute of the vocabulary: always shown as unplaced. */
export const UNFITTING = words(
  'bland neutral warm rich natural brown fresh refreshing cozy cosy flavourless flavorless tasteless flavorful',
  'flavourful comforting exotic cooling richness freshness warmth',
  'richer warming bittersweet off',
);

/** Words of liking, drinking, brewing, comparing and talk: never offered as an unknown taste. */
export const IGNORED = words(
  'coffee coffees cup cups one ones this that these those it i me my we you he she they them mine ours',
  'drink drinks drinking drinkable drinker daily everyday diner breakfast day time times way lot bit',
  'favorite favourite fave fav favorites pick choice preference preferred prefer interesting unique different',
  'similar same other others another classic standard typical traditional normal regular usual generic basic',
  'familiar average decent solid fun easy weird strange odd nothing something anything everything none unsure',
  'unknown specific particular hard first second third last next middle best better worse worst good great nice',
  'pleasant lovely enjoyable beautiful bad okay ok fine meh wow yes no yeah yep nope thanks hello hi hey lol',
  'haha notes tasting taste flavor flavour flavors flavours profile blend roast roasts origin single process',
  'processed washed anaerobic ethiopian ethiopia kenya kenyan colombia colombian brazil peru',
  'indonesian sumatra guatemala costa rican rica african overall general generally personally definitely maybe',
  'again still also too so very really quite pretty just only then now here there when while what who why how',
  'which where can could would should will may might must did does do done is was are were be been am',
  'hot cold cool cooler cooled cools room temperature temp early later start beginning end front back top',
  'brew brewed pour water table spoon kettle round rank ranking score color colour look looks smell smells',
  'tongue mouth palate palette throat nose sip sips feel feeling feels finish aftertaste body texture mouthfeel',
  'ish more less most least few many much some any all every each both either neither to of in on at by for',
  'from with without as than and or but if because since until about over under up down out into through',
  'a an the not had has have got get gets love loved like liked hate hated wish want wanted need think thought',
  'crowd pleasing half said hubs eventually visceral reaction sweetener sweeteners creamer capsule capsules',
  'sippable adventurous perception oddly experimental developed summer winter autumn fall spring george',
  'tall know sure agree confusing confused boring exciting special plus idea memorable forgettable inoffensive',
  'offensive approachable quality balance hint hints touch tbd na ditto impressions impression comment',
  'incorrectly correctly improves improved comfortable yucky warmer',
  'quintessential archetypal instant drip espresso filter cafe shop specialty commodity office church hotel',
);

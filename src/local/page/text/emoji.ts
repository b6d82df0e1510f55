// The shortcodes a tasting table types or a bot answers with; any other stays as typed.
const TABLE = `
lemon 🍋|tangerine 🍊|orange 🍊|grapes 🍇|melon 🍈|watermelon 🍉|banana 🍌|pineapple 🍍|mango 🥭|apple 🍎
green_apple 🍏|pear 🍐|peach 🍑|cherries 🍒|strawberry 🍓|blueberries 🫐|kiwifruit 🥝|tomato 🍅|coconut 🥥
olive 🫒|chestnut 🌰|peanuts 🥜|honey_pot 🍯|chocolate_bar 🍫|candy 🍬|lollipop 🍭|custard 🍮|cookie 🍪|cake 🍰
doughnut 🍩|bread 🍞|butter 🧈|rice 🍚|ear_of_rice 🌾|corn 🌽|hot_pepper 🌶️|garlic 🧄|onion 🧅|herb 🌿|leaves 🍃
fallen_leaf 🍂|maple_leaf 🍁|seedling 🌱|rose 🌹|hibiscus 🌺|cherry_blossom 🌸|sunflower 🌻|tulip 🌷|blossom 🌼
bouquet 💐|wood 🪵|evergreen_tree 🌲|deciduous_tree 🌳|coffee ☕|tea 🍵|teapot 🫖|bubble_tea 🧋|glass_of_milk 🥛
wine_glass 🍷|beer 🍺|tropical_drink 🍹|cocktail 🍸|whisky 🥃|ice_cube 🧊|salt 🧂|spoon 🥄|fork_and_knife 🍴
droplet 💧|fire 🔥|thermometer 🌡️|snowflake ❄️|sunny ☀️|cloud ☁️|rainbow 🌈|zap ⚡|dash 💨|smoking 🚬
smile 😄|slightly_smiling_face 🙂|grinning 😀|joy 😂|wink 😉|blush 😊|heart_eyes 😍|yum 😋|thinking_face 🤔
thinking 🤔|neutral_face 😐|confused 😕|face_with_monocle 🧐|astonished 😲|open_mouth 😮|grimacing 😬|sob 😭
cry 😢|nauseated_face 🤢|woozy_face 🥴|exploding_head 🤯|star-struck 🤩|sleeping 😴|wave 👋|clap 👏|pray 🙏
raised_hands 🙌|muscle 💪|ok_hand 👌|point_right 👉|point_up ☝️|point_down 👇|thumbsup 👍|+1 👍|thumbsdown 👎|-1 👎
eyes 👀|ear 👂|nose 👃|tongue 👅|heart ❤️|orange_heart 🧡|green_heart 💚|broken_heart 💔|sparkles ✨|star ⭐
star2 🌟|tada 🎉|trophy 🏆|medal 🏅|first_place_medal 🥇|second_place_medal 🥈|third_place_medal 🥉|100 💯
white_check_mark ✅|heavy_check_mark ✔️|ballot_box_with_check ☑️|x ❌|heavy_multiplication_x ✖️|question ❓
grey_question ❔|exclamation ❗|grey_exclamation ❕|warning ⚠️|no_entry ⛔|no_entry_sign 🚫|bulb 💡|bell 🔔
speech_balloon 💬|memo 📝|pencil 📝|pencil2 ✏️|writing_hand ✍️|clipboard 📋|bookmark_tabs 📑|page_facing_up 📄
bar_chart 📊|chart_with_upwards_trend 📈|straight_ruler 📏|scales ⚖️|balance_scale ⚖️|abacus 🧮|package 📦
label 🏷️|pushpin 📌|round_pushpin 📍|link 🔗|lock 🔒|unlock 🔓|key 🔑|mag 🔍|calendar 📆|date 📅|spiral_calendar_pad 🗓️
alarm_clock ⏰|stopwatch ⏱️|timer_clock ⏲️|hourglass ⌛|hourglass_flowing_sand ⏳|clock1 🕐|arrow_right ➡️|arrow_up ⬆️
arrow_down ⬇️|arrows_counterclockwise 🔄|leftwards_arrow_with_hook ↩️|heavy_plus_sign ➕|heavy_minus_sign ➖
large_blue_circle 🔵|red_circle 🔴|large_green_circle 🟢|large_yellow_circle 🟡|large_orange_circle 🟠
large_purple_circle 🟣|large_brown_circle 🟤|white_circle ⚪|black_circle ⚫|house 🏠|factory 🏭|robot_face 🤖
busts_in_silhouette 👥|bust_in_silhouette 👤|see_no_evil 🙈|see 👀|truck 🚚|moneybag 💰|euro 💶|dart 🎯|game_die 🎲
one 1️⃣|two 2️⃣|three 3️⃣|four 4️⃣|five 5️⃣|six 6️⃣|seven 7️⃣|eight 8️⃣|nine 9️⃣|keycap_ten 🔟|zero 0️⃣|a 🅰️|b 🅱️
`;

const EMOJI = new Map(
  TABLE.trim()
    .split(/[|\n]/)
    .map((entry): [string, string] => {
      const [name = '', picture = ''] = entry.split(' ');
      return [name, picture];
    }),
);

/** What the reaction picker offers, most useful at a table first. */
export const QUICK_REACTIONS = ['+1', 'yum', 'eyes', 'heart', 'fire', 'thinking_face', 'tada'];

/** The character for a shortcode, or undefined when it is not one of ours. */
export function emojiFor(name: string): string | undefined {
  return EMOJI.get(name);
}

/** What to show for a reaction's name: its character, else the shortcode itself. */
export function emojiOrName(name: string): string {
  return EMOJI.get(name) ?? `:${name}:`;
}

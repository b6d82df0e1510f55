import type { TableSheet } from '../../domain/table/table-sheet.js';

/** The longest name that a column of the sheet takes without pushing everything else off the page. */
const NAME_LIMIT = 32;
const TITLE_LIMIT = 60;

/** The sheet with names cut to what paper has room for; the letter or code still tells cups apart. */
export function shortNames(sheet: TableSheet): TableSheet {
  const names = new Map(sheet.totals.map(({ name }) => [name, cut(name, NAME_LIMIT)]));
  const long = [...names].filter(([name, short]) => name !== short);
  const inText = (text: string) => long.reduce((held, [name, short]) => held.replaceAll(name, short), text);
  const nameOf = (name: string) => names.get(name) ?? name;
  return {
    ...sheet,
    blendName: cut(sheet.blendName, TITLE_LIMIT),
    host: cut(sheet.host, NAME_LIMIT),
    cups: sheet.cups.map((cup) => ({
      ...cup,
      what: inText(cup.what),
      weigh: cup.weigh.map((weighing) => ({ ...weighing, name: nameOf(weighing.name) })),
    })),
    totals: sheet.totals.map((total) => ({ ...total, name: nameOf(total.name) })),
    orders: sheet.orders.map((order) => ({ ...order, taster: cut(order.taster, NAME_LIMIT) })),
    remarks: sheet.remarks.map(inText),
  };
}

/** Whole characters up to a limit, an ellipsis where something is left out. */
function cut(text: string, limit: number): string {
  const characters = [...text];
  return characters.length <= limit ? text : `${characters.slice(0, limit - 1).join('')}…`;
}

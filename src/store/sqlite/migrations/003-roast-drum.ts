/*
 * Losses are kept by drum, so a roast keeps in which one it was made (null for those from before: the green
 * says which), whether somebody confirmed a loss that is not the usual one, what green of which coffee it took
 * from the store, and that it was an error and does not count any more.
 */
export const ROAST_DRUM = [
  `alter table roast add column drum text`,
  `alter table roast add column confirmed integer not null default 0 check (confirmed in (0,1))`,
  `alter table roast add column taken_json text not null default '[]'`,
  `update roast set taken_json = json_array(json_object('coffeeId', coffee_id, 'mg', green_mg))
    where recipe_id is null`,
  `alter table roast add column struck_at text`,
];

/** How a table is served: steeped in bowls, or brewed in batches and poured out for larger or new groups. */
export const TABLE_FORMATS = ['cupping', 'brewed'] as const;
export type TableFormat = (typeof TABLE_FORMATS)[number];

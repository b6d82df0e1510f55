import { z } from 'zod';
import { CUP_KINDS, TABLE_FORMATS } from '../../domain/record/tasting.js';
import type { TableSheet } from '../../domain/table/table-sheet.js';

/* A table sheet as it was stored to be printed; what comes back is checked before it is drawn. */

const Scoops = z.object({
  scoops: z.array(z.number()),
  worstErrorPoints: z.number(),
  exact: z.array(z.number()).nullable(),
});
const Sheet = z.object({
  name: z.string(),
  blendName: z.string(),
  host: z.string(),
  when: z.string(),
  format: z.enum(TABLE_FORMATS),
  blind: z.boolean(),
  tables: z.number(),
  dose: z.object({
    format: z.enum(TABLE_FORMATS),
    doseMg: z.number(),
    waterMl: z.number(),
    vessels: z.number(),
  }),
  gramsPerLitre: z.number(),
  scaleStepMg: z.number(),
  cups: z.array(
    z.object({
      name: z.string(),
      label: z.string(),
      kind: z.enum(CUP_KINDS),
      what: z.string(),
      weigh: z.array(z.object({ coffeeId: z.number(), name: z.string(), mg: z.number() })),
      scoops: Scoops.nullable(),
    }),
  ),
  totals: z.array(
    z.object({
      coffeeId: z.number(),
      name: z.string(),
      tableMg: z.number(),
      purgeMg: z.number(),
      totalMg: z.number(),
    }),
  ),
  orders: z.array(z.object({ taster: z.string(), table: z.number(), cups: z.array(z.string()) })),
  orderNote: z.string(),
  timeline: z.array(z.object({ at: z.coerce.date(), clock: z.string(), what: z.string() })),
  setOut: z.array(z.string()),
  remarks: z.array(z.string()),
  cautions: z.array(z.string()),
}) satisfies z.ZodType<TableSheet>;

/** What a printed sheet is drawn from. */
export const PrintedSheet = z.object({
  sheet: Sheet,
  units: z.enum(['metric', 'pounds']),
  madeAt: z.coerce.date(),
});

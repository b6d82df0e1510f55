/** Blocks that show figures: `table` and `data_table`. Messages only. */
import { z } from 'zod';
import { limits } from './limits.js';
import { BlockId } from './objects.js';
import { RichText } from './rich-text.js';

const Cell = z.discriminatedUnion('type', [
  z.strictObject({ type: z.literal('raw_text'), text: z.string().min(1) }),
  z.strictObject({ type: z.literal('raw_number'), value: z.number(), text: z.string().min(1) }),
  RichText,
]);

type Cells = readonly (readonly z.infer<typeof Cell>[])[];

function cellText(cell: z.infer<typeof Cell>): string {
  return cell.type === 'rich_text' ? JSON.stringify(cell.elements) : cell.text;
}

function textWithin(max: number): (rows: Cells) => boolean {
  return (rows) => rows.flat().reduce((sum, cell) => sum + cellText(cell).length, 0) <= max;
}

export const Table = z.strictObject({
  type: z.literal('table'),
  block_id: BlockId,
  rows: z
    .array(z.array(Cell).min(1).max(limits.tableCells))
    .min(1)
    .max(limits.tableRows)
    .refine(textWithin(limits.tableText), `must hold less than ${limits.tableText + 1} characters in all`),
  column_settings: z
    .array(
      z.strictObject({
        align: z.enum(['left', 'center', 'right']).optional(),
        is_wrapped: z.boolean().optional(),
      }),
    )
    .max(limits.tableCells)
    .optional(),
});

export const DataTable = z.strictObject({
  type: z.literal('data_table'),
  block_id: BlockId,
  caption: z.string().min(1),
  rows: z
    .array(z.array(Cell).min(1).max(limits.tableCells))
    .min(2)
    .max(limits.dataTableRows)
    .refine((rows) => rows.every((row) => row.length === rows[0]?.length), 'rows must be equally wide')
    .refine((rows) => !rows[0]?.some((cell) => cell.type === 'rich_text'), 'the header must not be rich text')
    .refine(
      textWithin(limits.dataTableText),
      `must hold less than ${limits.dataTableText + 1} characters in all`,
    ),
  page_size: z.number().int().min(1).max(limits.dataTablePage).optional(),
  row_header_column_index: z.number().int().min(0).optional(),
});

import type { TopLevelSpec } from 'vega-lite';
import type { PlacingDrawing } from '../../domain/result/drawing.js';
import { FONT, INK, PALE } from './look.js';

/** Ratios down, ranks across: a dot for the mean, a bar for its interval. */
export function placingSpec(drawing: PlacingDrawing): TopLevelSpec {
  const names = drawing.ratios.map((ratio) => ratio.name);
  const y = { field: 'name', type: 'nominal' as const, sort: names, axis: { title: null } };
  const scale = { domain: [1, drawing.worst], nice: false, padding: 24 };
  const axis = {
    title: ['mean rank, 1 is best', 'bar: its 95 % interval'],
    titleFontSize: 24,
    titleFontWeight: 'normal' as const,
    values: names.map((_, index) => index + 1),
    format: 'd',
    grid: true,
  };
  return {
    width: 520,
    height: { step: 74 },
    background: '#ffffff',
    padding: 18,
    config: {
      font: FONT,
      axis: {
        labelFontSize: 26,
        labelColor: INK,
        titleColor: INK,
        domain: false,
        ticks: false,
        gridColor: PALE,
        labelLimit: 320,
      },
      view: { stroke: null },
    },
    data: { values: drawing.ratios },
    layer: [
      {
        mark: { type: 'rule', strokeWidth: 8, color: '#c9a184', strokeCap: 'round' },
        encoding: { y, x: { field: 'low', type: 'quantitative', scale, axis }, x2: { field: 'high' } },
      },
      {
        mark: { type: 'circle', size: 700, opacity: 1, color: '#b5622f' },
        encoding: { y, x: { field: 'mean', type: 'quantitative', scale } },
      },
    ],
  };
}

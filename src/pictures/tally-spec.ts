import type { TopLevelSpec } from 'vega-lite';
import type { TallyDrawing } from '../domain/tally/drawing.js';
import { FONT, INK, PALE } from './look.js';

/** Attributes down, cups across, one dot each: its size is the share of tasters, its number how many. */
export function tallySpec(drawing: TallyDrawing): TopLevelSpec {
  const step = drawing.cups.length > 8 ? 54 : 76;
  const x = {
    field: 'cup',
    type: 'nominal' as const,
    sort: drawing.cups,
    scale: { domain: drawing.cups },
    axis: { orient: 'top' as const, title: null, labelAngle: 0, labelFontWeight: 'bold' as const },
  };
  const y = {
    field: 'attribute',
    type: 'nominal' as const,
    sort: drawing.attributes,
    axis: { title: null, grid: true },
  };
  return {
    width: { step },
    height: { step: 58 },
    background: '#ffffff',
    padding: 18,
    config: {
      font: FONT,
      axis: {
        labelFontSize: 26,
        labelColor: INK,
        domain: false,
        ticks: false,
        gridColor: PALE,
        labelLimit: 300,
      },
      view: { stroke: null },
    },
    data: { values: drawing.dots },
    layer: [
      {
        mark: { type: 'circle', opacity: 1, color: '#b5622f' },
        encoding: {
          x,
          y,
          size: {
            field: 'share',
            type: 'quantitative',
            scale: { type: 'linear', domain: [0, 1], range: [60, 2300] },
            legend: null,
          },
        },
      },
      {
        mark: {
          type: 'text',
          fontSize: 20,
          dx: 0,
          dy: 0,
          fontWeight: 'bold',
          stroke: '#ffffff',
          strokeWidth: 3,
          strokeOpacity: 0.85,
        },
        encoding: { x, y, text: { field: 'tasters', type: 'quantitative' } },
      },
      {
        mark: { type: 'text', fontSize: 20, fontWeight: 'bold', color: INK },
        encoding: { x, y, text: { field: 'tasters', type: 'quantitative' } },
      },
    ],
  };
}

import type { TopLevelSpec } from 'vega-lite';
import type { TallyDrawing } from '../../domain/result/drawing.js';
import { FONT, INK, PALE } from './look.js';

/** Attributes down, cups across, one dot each: its size is the share of tasters, its number how many. */
export function tallySpec(drawing: TallyDrawing): TopLevelSpec {
  const coded = drawing.cups.some((cup) => cup.length > 2);
  const step = drawing.cups.length > 8 ? (coded ? 60 : 54) : 76;
  const x = {
    field: 'cup',
    type: 'nominal' as const,
    sort: drawing.cups,
    scale: { domain: drawing.cups },
    axis: {
      orient: 'top' as const,
      title: null,
      labelAngle: 0,
      labelFontWeight: 'bold' as const,
      labelFontSize: coded && drawing.cups.length > 8 ? 22 : 26,
    },
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
        mark: { type: 'circle', opacity: 1, color: '#e0a078' },
        encoding: {
          x,
          y,
          size: {
            field: 'share',
            type: 'quantitative',
            scale: { type: 'linear', domain: [0, 1], range: [420, 2500] },
            legend: null,
          },
        },
      },
      {
        mark: { type: 'text', fontSize: 22, fontWeight: 'bold', color: INK },
        encoding: { x, y, text: { field: 'tasters', type: 'quantitative' } },
      },
    ],
  };
}

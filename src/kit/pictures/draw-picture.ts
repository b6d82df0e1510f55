import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { Drawing } from '../../domain/result/drawing.js';
import { FONT } from './look.js';
import { placingSpec } from './placing-spec.js';
import { tallySpec } from './tally-spec.js';

const require = createRequire(import.meta.url);
const FONT_FOLDER = join(dirname(require.resolve('dejavu-fonts-ttf/package.json')), 'ttf');

/**
 * Draws a picture as PNG. The charting library is loaded with the first picture, never at start: it takes
 * longer than everything else the bot does.
 */
export async function drawPicture(data: unknown): Promise<Buffer> {
  const drawing = Drawing.parse(data);
  const [{ compile }, { parse, View }, { Resvg }] = await Promise.all([
    import('vega-lite'),
    import('vega'),
    import('@resvg/resvg-js'),
  ]);
  const { spec } = compile(drawing.kind === 'tally' ? tallySpec(drawing) : placingSpec(drawing));
  const view = new View(parse(spec), { renderer: 'none' });
  const svg = await view.toSVG();
  view.finalize();
  const options = {
    font: {
      fontFiles: [join(FONT_FOLDER, 'DejaVuSans.ttf'), join(FONT_FOLDER, 'DejaVuSans-Bold.ttf')],
      loadSystemFonts: false,
      defaultFontFamily: FONT,
    },
    background: '#ffffff',
  };
  return new Resvg(svg, options).render().asPng();
}

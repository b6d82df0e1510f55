import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { Drawing } from '../../domain/result/drawing.js';
import { chartSvg, FONT } from './chart-svg.js';

const require = createRequire(import.meta.url);
const FONT_FOLDER = join(dirname(require.resolve('dejavu-fonts-ttf/package.json')), 'ttf');
const PADDING = 18;

/**
 * Draws a picture as PNG. What rasters it is loaded with the first picture, never at start.
 *
 * @throws ZodError when `data` is no drawing
 */
export async function drawPicture(data: unknown): Promise<Buffer> {
  const svg = chartSvg(Drawing.parse(data));
  const { Resvg } = await import('@resvg/resvg-js');
  const picture = new Resvg(svg, {
    font: {
      fontFiles: [join(FONT_FOLDER, 'DejaVuSans.ttf'), join(FONT_FOLDER, 'DejaVuSans-Bold.ttf')],
      loadSystemFonts: false,
      defaultFontFamily: FONT,
    },
    background: '#ffffff',
  });
  const drawn = picture.getBBox();
  if (drawn !== undefined) {
    drawn.x -= PADDING;
    drawn.y -= PADDING;
    drawn.width += 2 * PADDING;
    drawn.height += 2 * PADDING;
    picture.cropByBBox(drawn);
  }
  return picture.render().asPng();
}

import { Drawing } from '../../domain/result/drawing.js';
import { FONT_FILES } from '../fonts/font-files.js';
import { chartSvg, FONT } from './chart-svg.js';

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
      fontFiles: Object.values(FONT_FILES),
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

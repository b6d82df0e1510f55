import { writeFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { drawPicture } from '../../../src/kit/pictures/draw-picture.js';

const PNG = Buffer.from([0x89, 0x50, 0x4e, 0x47]);

function widthOf(png: Buffer): number {
  return png.readUInt32BE(16);
}

test('a tally is drawn as a picture wide enough for a phone', async () => {
  const cups = ['A', 'B', 'C', 'D', 'E', 'F'];
  const attributes = ['dark chocolate', 'lemon', 'black tea', 'strawberry', 'full body'];
  const dots = cups.flatMap((cup, c) =>
    attributes.map((attribute, a) => ({
      cup,
      attribute,
      share: ((c * 3 + a * 5) % 9) / 8,
      tasters: (c * 3 + a * 5) % 9,
      noted: 8,
    })),
  );
  const png = await drawPicture({
    kind: 'tally',
    cups,
    attributes,
    dots: dots.filter((dot) => dot.tasters > 0),
  });
  if (process.env['LOOK']) writeFileSync(`${process.env['LOOK']}/tally.png`, png);
  expect(png.subarray(0, 4)).toEqual(PNG);
  expect(widthOf(png)).toBeGreaterThanOrEqual(600);
});

test('placings are drawn as a strip of means with their intervals', async () => {
  const ratios = [
    { name: 'D (50/30/20)', mean: 1.4, low: 1.1, high: 1.7, tasters: 8 },
    { name: 'E (2:1:1)', mean: 2, low: 1.5, high: 2.5, tasters: 8 },
    { name: 'F (40/40/20)', mean: 2.6, low: 2.2, high: 3, tasters: 8 },
  ];
  const png = await drawPicture({ kind: 'placing', ratios, worst: 3 });
  if (process.env['LOOK']) writeFileSync(`${process.env['LOOK']}/placing.png`, png);
  expect(png.subarray(0, 4)).toEqual(PNG);
  expect(widthOf(png)).toBeGreaterThanOrEqual(600);
});

test('what is no drawing is refused', async () => {
  await expect(drawPicture({ kind: 'wheel' })).rejects.toThrow();
});

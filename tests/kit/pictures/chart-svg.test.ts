import { expect, test } from 'vitest';
import { chartSvg } from '../../../src/kit/pictures/chart-svg.js';

const dot = { cup: 'A', attribute: 'lemon', share: 0.5, tasters: 4, noted: 8 };

test('a tally names its cups and attributes and counts in its dots', () => {
  const svg = chartSvg({ kind: 'tally', cups: ['A', 'B'], attributes: ['lemon'], dots: [dot] });
  for (const words of ['>A<', '>B<', '>lemon<', '>4<']) expect(svg).toContain(words);
  expect(svg.match(/<circle/g)).toHaveLength(1);
});

test('a dot grows in area with the share of tasters', () => {
  const radius = (share: number) => {
    const dots = [{ ...dot, share }];
    const svg = chartSvg({ kind: 'tally', cups: ['A'], attributes: ['lemon'], dots });
    return Number(/ r="([\d.]+)"/.exec(svg)?.[1]);
  };
  const [none, half, all] = [radius(0), radius(0.5), radius(1)];
  expect(half ** 2 - none ** 2).toBeCloseTo(all ** 2 - half ** 2, 6);
  expect(half).toBeGreaterThan(none);
});

test('names that look like markup stay names, and long ones are cut', () => {
  const ratio = { mean: 1, low: 1, high: 1.5, tasters: 3 };
  const ratios = [
    { name: 'D <b>&</b>', ...ratio },
    { name: 'E a name that is far longer than there is room', ...ratio },
  ];
  const svg = chartSvg({ kind: 'placing', worst: 2, ratios });
  expect(svg).toContain('>D &lt;b&gt;&amp;&lt;/b&gt;<');
  expect(svg).toContain('>E a name that is far …<');
});

test('placings have one mark for each rank and keep the best at the left', () => {
  const ratios = [1, 2, 3].map((mean) => ({ name: `R${mean}`, mean, low: mean, high: mean, tasters: 1 }));
  const svg = chartSvg({ kind: 'placing', worst: 3, ratios });
  const centres = [...svg.matchAll(/<circle cx="([\d.]+)"/g)].map(([, x]) => Number(x));
  expect(centres).toEqual([24, 260, 496]);
});

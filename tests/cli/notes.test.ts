import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import { runNotes } from '../../src/cli/notes-run.js';

const readingSchema = z.strictObject({
  text: z.string(),
  mentions: z.array(
    z.strictObject({
      cup: z.string().nullable(),
      attribute: z.string(),
      polarity: z.enum(['present', 'denied', 'compared']),
      degree: z.enum(['slight', 'plain', 'strong']),
      intensity: z.number().min(0).max(15).optional(),
      doubt: z.boolean(),
      span: z.tuple([z.int(), z.int()]),
    }),
  ),
  order: z.array(z.array(z.string())).nullable(),
  liking: z.record(z.string(), z.number()),
  needsCup: z.boolean(),
  unplaced: z.array(z.string()),
  worst: z.array(z.string()).optional(),
});

const CUPS = [{ label: 'C' }, { label: 'D', name: '50/30/20', kind: 'ratio' }, { label: 'E' }];

function run(args: readonly string[], file: string): { code: number; out: string; warned: string } {
  let out = '';
  let warned = '';
  const outside = {
    read: () => file,
    print: (text: string) => {
      out += text;
    },
    warn: (text: string) => {
      warned += text;
    },
  };
  return { code: runNotes(args, outside), out, warned };
}

function readings(file: string): readonly z.output<typeof readingSchema>[] {
  const { code, out, warned } = run(['notes.txt'], file);
  expect({ code, warned }).toEqual({ code: 0, warned: '' });
  return out
    .trimEnd()
    .split('\n')
    .map((line) => readingSchema.parse(JSON.parse(line)));
}

describe('reading a file of notes', () => {
  test('gives one JSON reading a line for lines of text', () => {
    const [first, second, ...rest] = readings('lemon, a hint of jasmine\nnot sour, "very" sweet\n');
    expect(rest).toEqual([]);
    expect(first?.mentions).toEqual([
      { cup: null, attribute: 'lemon', polarity: 'present', degree: 'plain', doubt: false, span: [0, 5] },
      {
        cup: null,
        attribute: 'jasmine',
        polarity: 'present',
        degree: 'slight',
        intensity: 4,
        doubt: false,
        span: [17, 24],
      },
    ]);
    expect(second?.mentions.map(({ polarity }) => polarity)).toEqual(['denied', 'present']);
  });

  test('takes the place of a note from lines of JSON', () => {
    const lines = [
      { text: 'C: lemon. Best D, worst C. D 8/9', cups: CUPS },
      { text: 'lemon', cups: CUPS, homeCup: 'E' },
      { text: 'lemon', cups: CUPS },
      { text: '50/30/20 is plummy', cups: CUPS, blind: true },
    ];
    const [named, home, none, blind] = readings(lines.map((line) => JSON.stringify(line)).join('\n'));
    expect(named).toMatchObject({ mentions: [{ cup: 'C' }], order: [['D']], worst: ['C'], liking: { D: 8 } });
    expect(home).toMatchObject({ mentions: [{ cup: 'E' }], needsCup: false });
    expect(none).toMatchObject({ mentions: [{ cup: null }], needsCup: true });
    expect(blind).toMatchObject({ mentions: [{ cup: null }], needsCup: true });
  });

  test('takes a file of JSON strings as notes, and quoted text as text', () => {
    expect(readings('"lemon"\n"tea\\nplum"\n').map(({ text }) => text)).toEqual(['lemon', 'tea\nplum']);
    expect(readings('"lemon"\nplum\n').map(({ text }) => text)).toEqual(['"lemon"', 'plum']);
  });

  test('names the line of JSON that is no note, on the other channel, and reads the others', () => {
    const { code, out, warned } = run(['-'], '{"words":"lemon"}\n{"text":"plum"}\n');
    expect(code).toBe(0);
    expect(out.trimEnd().split('\n')).toHaveLength(1);
    expect(warned).toContain('Line 1 is JSON but no note');
  });

  test('without a file says how to use it, and prints nothing', () => {
    const { code, out, warned } = run([], '');
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(warned).toContain('npm run notes -- FILE');
    expect(run(['--nonsense'], '').warned).toContain('--nonsense');
  });
});

describe('scoring a labelled file', () => {
  const labelled = [
    {
      text: 'lemon, not sour',
      mentions: [
        { attribute: 'lemon', polarity: 'present' },
        { attribute: 'sour', polarity: 'denied' },
      ],
    },
    {
      text: 'C: plum',
      cups: CUPS,
      mentions: [
        { cup: 'C', attribute: 'plum', polarity: 'present' },
        { cup: 'C', attribute: 'fig', polarity: 'present' },
      ],
    },
    { text: 'peach', mentions: [] },
    { text: 'not bitter', mentions: [{ attribute: 'bitter', polarity: 'present' }] },
  ];
  const file = labelled.map((line) => JSON.stringify(line)).join('\n');

  // Counted by hand: right lemon, sour denied, plum; extra peach, bitter denied; missed fig, bitter.
  test('counts right, extra and missed mentions over attribute and polarity', () => {
    const score: unknown = JSON.parse(run(['--score', 'labelled.jsonl', '--json'], file).out);
    expect(score).toMatchObject({
      notes: 4,
      overall: { hit: 3, extra: 2, missed: 2, precision: 0.6, recall: 0.6, f1: 0.6 },
      polarityAccuracy: 0.75,
      cupAccuracy: 1,
    });
  });

  test('prints families, polarity, cups and the worst lines to read', () => {
    const { out } = run(['--score', 'labelled.jsonl'], file);
    expect(out).toMatch(/^4 notes\n/);
    expect(out).toMatch(/fruity +0\.6667/);
    expect(out).toContain('polarity accuracy 0.7500');
    expect(out).toContain('cup assignment 1.0000');
    expect(out).toContain('missed: fig/ present');
  });

  test('names the line that is no labelled note', () => {
    const { code, warned } = run(['--score', 'labelled.jsonl'], '{"text":"lemon"}');
    expect(code).toBe(2);
    expect(warned).toContain('Line 1 is no labelled note');
  });
});

test('the unknown words of a file are listed, most frequent first', () => {
  const { out } = run(['--unknown', 'notes.txt'], 'lemon, quipu\nquipu and tarwi, not sour\n');
  expect(out).toBe('2\tquipu\n1\ttarwi\n');
});

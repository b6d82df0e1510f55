import { z } from 'zod';
import { formatBp, parseBp, WHOLE_BP } from '../measure/hundredths.js';
import { formatGrams, formatWeight, parseWeight, type UnitSystem } from '../measure/weight.js';
import { type Reading, unclear } from './fact.js';

/** What is used of a drum's stated capacity when nothing is said: trade advice. */
const USABLE_SHARE = 0.8;
/**
 * The smallest batch as a share of capacity when nothing is said: a quarter of a drum is one of several figures
 * quoted; a sample roaster takes a tenth.
 */
const SMALLEST_SHARE = { production: 0.25, sample: 0.1 };

/** A roaster of the house; `capacityMg` is the stated capacity in green coffee. */
export const Drum = z.object({
  name: z.string().min(1).max(60),
  capacityMg: z.number().int().positive(),
  minimumChargeMg: z.number().int().nonnegative(),
  /** Share of the stated capacity that is used at most, 0..1. */
  usableShare: z.number().gt(0).max(1).default(USABLE_SHARE),
  kind: z.enum(['production', 'sample']),
});
export type Drum = z.output<typeof Drum>;

function usualDrum(capacityMg: number, kind: Drum['kind']): Drum {
  const name = `${formatGrams(capacityMg)} ${kind === 'sample' ? 'sample roaster' : 'drum'}`;
  const minimumChargeMg = Math.round(capacityMg * SMALLEST_SHARE[kind]);
  return { name, capacityMg, minimumChargeMg, usableShare: USABLE_SHARE, kind };
}

/** The drums of a house that has told nothing. */
export const USUAL_DRUMS: Drum[] = [usualDrum(15_000_000, 'production'), usualDrum(1_000_000, 'sample')];

/** "15 kg drum min 3.75 kg, 1 kg sample min 100 g", as one would type it. */
export function exampleDrums(drums: readonly Drum[]): string {
  return drums
    .map(({ capacityMg, minimumChargeMg, kind }) => {
      const named = kind === 'sample' ? 'sample' : 'drum';
      return `${formatGrams(capacityMg)} ${named} min ${formatGrams(minimumChargeMg)}`;
    })
    .join(', ');
}

/** Where the figures of the default drums come from. */
export function drumSource([first]: readonly Drum[]): string {
  const { capacityMg = 1, minimumChargeMg = 0, usableShare = 1 } = first ?? {};
  const least = formatBp(Math.round((minimumChargeMg / capacityMg) * WHOLE_BP));
  return `only you can know; at most ${formatBp(usableShare * WHOLE_BP)} of capacity is trade advice, at least ${least} is one of several figures quoted`;
}

/** A drum in the words that read back as the same drum: "15 kg drum min 3.75 kg use 80 %". */
export function drumWords(drum: Drum): string {
  const capacity = formatGrams(drum.capacityMg);
  const name = drum.name.includes(capacity) ? drum.name : `${drum.name} ${capacity}`;
  return `${name} min ${formatGrams(drum.minimumChargeMg)} use ${Math.round(drum.usableShare * 100)} %`;
}

/** Reads the house's roasters: "15 kg drum min 3.75 kg use 80 %, 1 kg sample min 100 g". */
export function readDrums(words: string, like: string): Reading<Drum[]> {
  const drums = words.split(/[;\n]|,\s+/u).map(readDrum);
  const known = drums.filter((drum) => drum !== null);
  if (known.length === 0 || known.length < drums.length) return unclear(words, `Say it like ${like}.`);
  const backwards = known.find((drum) => drum.minimumChargeMg > drum.capacityMg * drum.usableShare);
  if (backwards) return unclear(words, `The least the ${backwards.name} takes is more than it holds.`);
  return { ok: true, value: known };
}

const WEIGHT = /(\d[\d.,]*)\s*(kg|g|lbs?)\b/iu;

function readDrum(text: string): Drum | null {
  const minimum = /\b(?:min|minimum|at least|from)\s+(\d[\d.,]*\s*(?:kg|g|lbs?))\b/iu.exec(text);
  const use = /\b(?:use|used to|usable)\s+(\d+\s*%)/iu.exec(text);
  const bare = text
    .replace(minimum?.[0] ?? '', '')
    .replace(use?.[0] ?? '', '')
    .trim();
  const capacity = parseWeight(WEIGHT.exec(bare)?.[0] ?? '');
  if (!capacity.ok) return null;
  const least = minimum ? parseWeight(minimum[1] ?? '') : null;
  if (least && !least.ok) return null;
  const kind = /\bsample\b/iu.test(bare) ? 'sample' : 'production';
  const isNamed = /\b(?:drum|roaster)\b/iu.test(bare);
  const name = isNamed ? bare : `${bare}${kind === 'sample' ? ' roaster' : ' drum'}`.trim();
  const usual = usualDrum(capacity.mg, kind);
  const usedBp = parseBp(use?.[1] ?? '');
  return {
    ...usual,
    name,
    minimumChargeMg: least?.mg ?? usual.minimumChargeMg,
    usableShare: usedBp === null ? usual.usableShare : usedBp / WHOLE_BP,
  };
}

/** "15 kg drum: 15 kg, at least 3.75 kg, used to 80 %". */
export function showDrums(drums: readonly Drum[], unitSystem: UnitSystem): string {
  const weight = (mg: number) => formatWeight(mg, unitSystem);
  return drums
    .map(
      ({ name, capacityMg, minimumChargeMg, usableShare }) =>
        `${name}: ${weight(capacityMg)}, at least ${weight(minimumChargeMg)}, used to ${formatBp(usableShare * WHOLE_BP)}`,
    )
    .join('; ');
}

import { formatWeight } from '../measure/format-weight.js';
import { parseWeight } from '../measure/parse-weight.js';
import { formatBp, parseBp } from '../measure/percent.js';
import { changed, type FactEntry, unclear } from './fact-entry.js';
import type { Drum } from './house-facts.js';

const EXAMPLE = '15 kg drum min 3.75 kg, 1 kg sample min 100 g';
const WEIGHT = /(\d[\d.,]*)\s*(kg|g|lbs?)\b/iu;

/** The house's roasters: "15 kg drum min 3.75 kg use 80 %, 1 kg sample min 100 g". */
export const DRUM_FACTS: readonly FactEntry[] = [
  {
    name: 'drums',
    label: 'drums',
    alsoCalled: ['drum', 'roasters', 'machines', 'drum capacity'],
    example: EXAMPLE,
    read: (words) => {
      const drums = words.split(/[;\n]|,\s+/u).map(readDrum);
      const known = drums.filter((drum) => drum !== null);
      if (known.length === 0 || known.length < drums.length) return unclear(words, `Say it like ${EXAMPLE}.`);
      const backwards = known.find((drum) => drum.minimumChargeMg > drum.capacityMg * drum.usableShare);
      if (backwards) return unclear(words, `The least the ${backwards.name} takes is more than it holds.`);
      return changed({ drums: known });
    },
    show: (house) =>
      house.drums
        .map((drum) => {
          const [most, least] = [drum.capacityMg, drum.minimumChargeMg].map((mg) =>
            formatWeight(mg, house.unitSystem),
          );
          return `${drum.name}: ${most ?? ''}, at least ${least ?? ''}, used to ${formatBp(drum.usableShare * 10_000)}`;
        })
        .join('; '),
  },
];

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
  // A quarter of the drum is one of several figures quoted as the smallest batch; a sample roaster takes a tenth.
  const usualLeast = Math.round(capacity.mg * (kind === 'sample' ? 0.1 : 0.25));
  return {
    name: /\b(?:drum|roaster)\b/iu.test(bare)
      ? bare
      : `${bare}${kind === 'sample' ? ' roaster' : ' drum'}`.trim(),
    capacityMg: capacity.mg,
    minimumChargeMg: least ? least.mg : usualLeast,
    usableShare: (use ? (parseBp(use[1] ?? '') ?? 8000) : 8000) / 10_000,
    kind,
  };
}

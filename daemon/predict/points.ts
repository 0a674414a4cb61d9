import type { Design, Rail } from '../design/design.js';
import { partWords } from './part-words.js';

/** What a test point is, without its numbers. */
export interface PointMeaning {
  readonly label: string;
  /** One line with its source, for a person who wants to check. */
  readonly formula: string;
}

const STEADY =
  'periodic steady state of winding, diodes (Shockley 1949), ESR and reservoir; mean over a cycle';

const PART_POINTS: Readonly<Record<string, PointMeaning>> = {
  'reservoir.volts': { label: 'reservoir, mean', formula: STEADY },
  'reservoir.ripple': {
    label: 'reservoir ripple, peak to peak',
    formula: 'highest less lowest of the same; a little under the textbook I / (2 f C)',
  },
  'reservoir.valley': { label: 'reservoir, lowest of each cycle', formula: 'lowest of the same' },
  'negative-reservoir.volts': { label: 'negative reservoir, mean', formula: STEADY },
  'negative-reservoir.ripple': {
    label: 'negative reservoir ripple, peak to peak',
    formula: 'highest less lowest of the same; a little under the textbook I / (2 f C)',
  },
  'negative-reservoir.valley': {
    label: 'negative reservoir, nearest to zero of each cycle',
    formula: 'nearest to zero of the same',
  },
  'filter.headroom': {
    label: 'filter headroom at the valley',
    formula: 'least input minus output over what saturates the follower; below 0 it passes ripple',
  },
  'filter.dissipation': {
    label: 'filter, heat',
    formula: 'mean of volts across times amps through, over a cycle',
  },
  'filter.case': {
    label: 'filter follower case',
    formula: 'air + P x K/W to air; LM317 datasheet, heatsink equations',
  },
  'filter.junction': {
    label: 'filter follower junction',
    formula: 'case + P x junction-to-case K/W; LM317 datasheet, heatsink equations',
  },
  'transformer.amps': {
    label: 'transformer secondary',
    formula: 'RMS of the charging pulses of the same',
  },
  'ambient.air': {
    label: 'air around the enclosure',
    formula: 'typical and highest as the design states them',
  },
};

const FILTER_VOLTS = {
  multiplier: 'input less base-resistor and base-emitter volts; held below the valley where it saturates',
  rc: 'input less I x R',
} as const;
const FILTER_RIPPLE = {
  multiplier:
    'first-order low pass at the base, exact on the sampled waveform, and the dips where it saturates',
  rc: 'first-order low pass, exact on the sampled waveform',
} as const;

/** Meaning of a test point of this design. @throws {RangeError} for one that it doesn't have. */
export function pointMeaning(id: string, design: Design): PointMeaning {
  const fixed = PART_POINTS[id] ?? filterMeaning(id, design);
  if (fixed !== null) return { ...fixed, formula: fixed.formula + nearness(id, design) };
  const [name = '', quantity = ''] = id.split('.');
  const rail = design.rails[name];
  const meaning = rail === undefined ? undefined : railMeanings(name, rail, design)[quantity];
  if (meaning === undefined) throw new RangeError(`the design has no test point ${id}`);
  return meaning;
}

/** Where a point is known less nearly than elsewhere, which its band doesn't hold; found by integration in time. */
function nearness(id: string, { rectifier, filter }: Design): string {
  if (rectifier.kind === 'split-bridge' && id.endsWith('reservoir.volts')) {
    return '; a polarity with next to no load reads up to 4 % less while the other has much';
  }
  return filter?.kind === 'rc' && id === 'reservoir.ripple'
    ? '; what the RC filter beside it holds is right within a tenth of the ripple'
    : '';
}

function filterMeaning(id: string, { filter }: Design): PointMeaning | null {
  if (filter === undefined) return null;
  if (id === 'filter.volts') return { label: 'filter output, mean', formula: FILTER_VOLTS[filter.kind] };
  if (id === 'filter.ripple')
    return { label: 'filter ripple, peak to peak', formula: FILTER_RIPPLE[filter.kind] };
  return id === 'filter.valley'
    ? { label: 'filter output, lowest of each cycle', formula: 'lowest of the same' }
    : null;
}

function railMeanings(name: string, rail: Rail, design: Design): Record<string, PointMeaning> {
  const part = partWords(name, design);
  const sheet = typeof rail.regulator === 'string' ? `${part} datasheet` : 'as the design states it';
  const cooling =
    rail.cooling === undefined || rail.cooling.heatsink === 'none'
      ? 'air + P x case-to-air of the bare package'
      : 'air + P x (interface + heatsink K/W)';
  return {
    volts: {
      label: `${name} rail`,
      formula: `${settingFormula(rail, part)}; input less dropout where that is lower`,
    },
    ripple: {
      label: `${name} ripple, peak to peak`,
      formula: `${rail.from} ripple by the ripple rejection; ${sheet}`,
    },
    dissipation: { label: `${name} regulator, heat`, formula: heatFormula(rail) },
    case: {
      label: `${name} regulator case`,
      formula: `${cooling}; LM317 datasheet, heatsink equations`,
    },
    junction: {
      label: `${name} regulator junction`,
      formula: 'case + P x junction-to-case K/W; LM317 datasheet, heatsink equations',
    },
  };
}

function settingFormula({ regulator, r2 }: Rail, part: string): string {
  if (typeof regulator === 'string') {
    return r2 === undefined
      ? `output window of the ${part}, datasheet`
      : `Vref (1 + R2/R1) + Iadj R2; ${part} datasheet`;
  }
  return regulator.kind === 'zener'
    ? 'zener volts less base-emitter volts; textbook series regulator'
    : 'output as the design states it';
}

function heatFormula({ regulator }: Rail): string {
  if (typeof regulator === 'object' && regulator.kind === 'switching') {
    return 'Pout (1 / efficiency - 1), or Vin x idle current where that is more; definition of efficiency';
  }
  return '(Vin - Vout) I + Vin Iq; datasheet practice';
}

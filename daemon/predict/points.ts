import type { Rail } from '../design/design.js';
import type { RailQuantity } from '../design/test-points.js';
import type { PointUnit } from './prediction.js';
import type { Values } from './supply-cloud.js';
import type { SupplyFacts } from './supply.js';
import type { SupplyState } from './work-out.js';

/** What a test point is, without its numbers. */
export interface PointMeaning {
  readonly label: string;
  readonly unit: PointUnit;
  readonly formula: string;
}

const PART_POINTS: Readonly<Record<string, PointMeaning>> = {
  'reservoir.volts': {
    label: 'reservoir, mean',
    unit: 'V',
    formula: 'periodic steady state of winding, diodes (Shockley 1949), ESR and reservoir; mean over a cycle',
  },
  'reservoir.ripple': {
    label: 'reservoir ripple, peak to peak',
    unit: 'Vpp',
    formula: 'highest less lowest of the same; a little under the textbook I / (2 f C)',
  },
  'reservoir.valley': {
    label: 'reservoir, lowest of each cycle',
    unit: 'V',
    formula: 'lowest of the same',
  },
  'transformer.amps': {
    label: 'transformer secondary',
    unit: 'Arms',
    formula: 'RMS of the charging pulses of the same',
  },
  'ambient.air': {
    label: 'air around the enclosure',
    unit: 'degC',
    formula: 'typical and highest as the design states them',
  },
};

/** Meaning of every test point of a supply, by id, in the order in which a person reads them. */
export function pointMeanings({ design }: SupplyFacts): Record<string, PointMeaning> {
  const meanings = { ...PART_POINTS };
  for (const [name, rail] of Object.entries(design.rails)) {
    for (const [quantity, meaning] of Object.entries(railMeanings(name, rail))) {
      meanings[`${name}.${quantity}`] = meaning;
    }
  }
  for (const [id, { label }] of Object.entries(design.points)) {
    const meaning = meanings[id];
    if (meaning && label !== undefined) meanings[id] = { ...meaning, label };
  }
  return meanings;
}

function railMeanings(name: string, rail: Rail): Record<RailQuantity, PointMeaning> {
  const regulator = rail.regulator;
  const setting =
    rail.r2 === undefined
      ? `output window of the ${regulator}, datasheet`
      : `Vref (1 + R2/R1) + Iadj R2; ${regulator} datasheet`;
  const cooling =
    rail.cooling.heatsink === 'none'
      ? 'air + P x case-to-air of the bare package'
      : 'air + P x (interface + heatsink K/W)';
  return {
    volts: {
      label: `${name} rail`,
      unit: 'V',
      formula: `${setting}; input less dropout where that is lower`,
    },
    ripple: {
      label: `${name} ripple, peak to peak`,
      unit: 'Vpp',
      formula: `reservoir ripple by the ripple rejection; ${regulator} datasheet`,
    },
    dissipation: {
      label: `${name} regulator, heat`,
      unit: 'W',
      formula: '(Vin - Vout) I + Vin Iq; datasheet practice',
    },
    case: {
      label: `${name} regulator case`,
      unit: 'degC',
      formula: `${cooling}; LM317 datasheet, heatsink equations`,
    },
    junction: {
      label: `${name} regulator junction`,
      unit: 'degC',
      formula: 'case + P x junction-to-case K/W; LM317 datasheet, heatsink equations',
    },
  };
}

/** The value of every test point in a worked-out supply. */
export function pointValues({ raw, ambient, rails }: SupplyState): Values {
  const values: Record<string, number> = {
    'reservoir.volts': raw.mean,
    'reservoir.ripple': raw.ripple,
    'reservoir.valley': raw.valley,
    'transformer.amps': raw.secondaryRms,
    'ambient.air': ambient,
  };
  for (const [name, rail] of Object.entries(rails)) {
    values[`${name}.volts`] = rail.volts;
    values[`${name}.ripple`] = rail.ripple;
    values[`${name}.dissipation`] = rail.dissipation;
    values[`${name}.case`] = rail.case;
    values[`${name}.junction`] = rail.junction;
  }
  return values;
}

/** Units of what can't be below zero. */
export function neverNegative(unit: PointUnit): boolean {
  return unit !== 'degC';
}

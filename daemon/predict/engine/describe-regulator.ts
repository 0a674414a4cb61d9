import type { Design, Rail } from '../../design/design.js';
import type { OtherRegulator, ZenerRegulator } from '../../design/design-rail.js';
import { partsOf } from '../../design/own-parts.js';
import type { Regulator } from '../../design/parts/regulators.js';
import type { Spread } from '../../design/parts/spread.js';
import { certain } from './parameters.js';
import { named, plusMinus, share, TRANSISTOR_JUNCTION, within } from './spreads.js';
import type { RegulatorDescription } from './supply.js';

/** A follower behind a zener diode at some load (from memory), V. */
const BASE_EMITTER: Spread = { low: 0.6, typical: 0.7, high: 0.85 };
const SATURATION: Spread = { low: 0.15, typical: 0.3, high: 0.8 };
const RESISTOR_DOUBT = 0.05;
/** Of switching modules (common practice), degrees C. */
const MODULE_JUNCTION = 125;

/**
 * The regulator of a rail in the engine's words.
 * @throws {RangeError} for a part that isn't known; a loaded design has none such.
 */
export function describeRegulator(name: string, rail: Rail, design: Design): RegulatorDescription {
  const { regulator } = rail;
  if (typeof regulator === 'object') return otherRegulator(name, regulator);
  const part = partsOf(design).regulators.get(regulator);
  if (part === undefined) throw new RangeError(`regulator "${regulator}" isn't in the part library`);
  return partRegulator(name, rail, part);
}

function partRegulator(name: string, rail: Rail, part: Regulator): RegulatorDescription {
  const { family, currentLimit } = part;
  const linear = {
    dropout: { volts: named(`${name}.dropout`, part.dropout), atAmps: part.dropout.atAmps, family },
    minimumLoadAmps: part.minimumLoad.high,
    currentLimit,
    junctionLimit: part.junctionOperating,
  };
  if (part.kind === 'fixed') {
    return {
      ...linear,
      kind: 'fixed',
      volts: named(`${name}.volts`, part.volts),
      quiescentAmps: named(`${name}.groundAmps`, part.quiescentAmps),
      rejection_dB: named(`${name}.rejection_dB`, part.rippleRejection_dB),
    };
  }
  const tolerance = rail.resistor_tolerance_percent / 100;
  const quiet = part.rippleRejectionWithCapacitor_dB ?? part.rippleRejection_dB;
  return {
    ...linear,
    kind: 'adjustable',
    referenceVolts: named(`${name}.volts`, part.volts),
    adjustAmps: named(`${name}.adjustAmps`, part.adjustAmps),
    r1: named(`${name}.r1`, within(rail.r1 ?? NaN, tolerance)),
    r2: named(`${name}.r2`, within(rail.r2 ?? NaN, tolerance)),
    adjustFarads: (rail.adjust_capacitor_uF ?? 0) * 1e-6,
    rejection_dB: named(`${name}.rejection_dB`, part.rippleRejection_dB),
    rejectionWithCapacitor_dB: named(`${name}.rejectionWithCapacitor_dB`, quiet),
    rejectionAtVolts: part.rippleRejection_dB.atVolts,
  };
}

function otherRegulator(name: string, regulator: OtherRegulator): RegulatorDescription {
  switch (regulator.kind) {
    case 'zener':
      return zenerOf(name, regulator);
    case 'switching':
      return {
        kind: 'switching',
        volts: named(`${name}.volts`, within(regulator.volts, regulator.tolerance_percent / 100)),
        dropoutVolts: certain(`${name}.dropout`, regulator.minimum_input - regulator.volts),
        rejection_dB: named(`${name}.rejection_dB`, plusMinus(regulator.rejection_dB, 10)),
        efficiency: regulator.efficiency.map(([amps, percent]) => ({ amps, share: percent / 100 })),
        // A datasheet's curve holds for one sample at one input.
        lossFactor: named(`${name}.losses`, share(1, 0.8, 1.3)),
        idleAmps: regulator.idle_amps,
        junctionLimit: MODULE_JUNCTION,
      };
    case 'given':
      return {
        kind: 'given',
        volts: named(`${name}.volts`, within(regulator.volts, regulator.tolerance_percent / 100)),
        ripple: named(`${name}.ownRipple`, share(regulator.ripple, 0.5, 1.5)),
        dropoutVolts: regulator.dropout,
      };
  }
}

function zenerOf(name: string, regulator: ZenerRegulator): RegulatorDescription {
  const { zener_volts, zener_tolerance_percent, zener_amps, zener_ohms, resistor, gain } = regulator;
  return {
    kind: 'zener',
    zenerVolts: named(`${name}.zenerVolts`, within(zener_volts, zener_tolerance_percent / 100)),
    zenerTestAmps: zener_amps,
    zenerResistance: named(`${name}.zenerOhms`, share(zener_ohms, 0.5, 2)),
    resistance: named(`${name}.resistor`, within(resistor, RESISTOR_DOUBT)),
    beta: named(`${name}.gain`, share(gain, 0.5, 2)),
    baseEmitterVolts: named(`${name}.baseEmitter`, BASE_EMITTER),
    saturationVolts: named(`${name}.saturation`, SATURATION),
    junctionLimit: TRANSISTOR_JUNCTION,
  };
}

import { certain } from '../../../../daemon/predict/engine/parameters.js';
import { supplyModel } from '../../../../daemon/predict/engine/model.js';
import type {
  AdjustableDescription,
  CoolingDescription,
  FixedDescription,
  LoadDescription,
  RailDescription,
  ReservoirDescription,
  SupplyDescription,
  Uncertain,
} from '../../../../daemon/predict/engine/supply.js';
import type { LoadState } from '../../../../daemon/design/design.js';
import type { Diode } from '../../../../daemon/predict/rectifier/circuit.js';

/** A common silicon rectifier, as the reference cases describe it. */
export const junctionDiode: Diode = {
  law: 'shockley',
  saturationCurrent: 7e-9,
  emissionCoefficient: 1.8,
  thermalVoltage: 0.025852,
  seriesResistance: 0.04,
};

/** Known to a tenth either way. */
export function about(name: string, value: number, doubt = 0.1): Uncertain {
  return { name, low: value * (1 - doubt), typical: value, high: value * (1 + doubt) };
}

/** The same in every state. */
export function drawing(name: string, amps: number, ohms = Infinity): LoadDescription {
  const load = { amps: about(`${name}.loadAmps`, amps), ohms };
  return { idle: load, typical: load, full: load };
}

/** A TO-220 on 8 K/W through 1 K/W; bare without a heatsink. */
export function cooledBy(name: string, toAir: number | null): CoolingDescription {
  return {
    package: {
      junctionToCase: certain(`${name}.junctionCase`, 5),
      junctionToAir: certain(`${name}.junctionAir`, 57),
      junctionCapacity: 0.05,
      caseCapacity: certain(`${name}.caseCapacity`, 1.5),
    },
    mounting:
      toAir === null
        ? null
        : {
            interface: certain(`${name}.caseSink`, 1),
            fitted: true,
            heatsink: {
              kind: 'rated',
              toAir: about(`${name}.toAir`, toAir),
              capacity: certain(`${name}.sinkCapacity`, 60),
            },
          },
    probeContact: 1,
  };
}

export function fixedRegulator(name: string, volts: number): FixedDescription {
  return {
    kind: 'fixed',
    volts: about(`${name}.volts`, volts, 0.05),
    quiescentAmps: certain(`${name}.groundAmps`, 5e-3),
    rejection_dB: certain(`${name}.rejection_dB`, 73),
    dropout: { volts: certain(`${name}.dropout`, 2), atAmps: 1, family: 'darlington' },
    minimumLoadAmps: 5e-3,
    currentLimit: [],
    junctionLimit: 125,
  };
}

export function adjustableRegulator(name: string, r2: number): AdjustableDescription {
  return {
    kind: 'adjustable',
    referenceVolts: about(`${name}.volts`, 1.25, 0.04),
    adjustAmps: certain(`${name}.adjustAmps`, 50e-6),
    r1: certain(`${name}.r1`, 240),
    r2: about(`${name}.r2`, r2, 0.01),
    adjustFarads: 0,
    rejection_dB: certain(`${name}.rejection_dB`, 65),
    rejectionWithCapacitor_dB: certain(`${name}.rejectionWithCapacitor_dB`, 80),
    rejectionAtVolts: 10,
    dropout: { volts: certain(`${name}.dropout`, 2), atAmps: 1, family: 'darlington' },
    minimumLoadAmps: 10e-3,
    currentLimit: [],
    junctionLimit: 125,
  };
}

export function rail(name: string, change: Partial<RailDescription> = {}): RailDescription {
  return {
    name,
    polarity: 'positive',
    from: 'reservoir',
    seriesOhms: 0,
    regulator: fixedRegulator(name, 5),
    passesInput: false,
    cooling: cooledBy(name, 8),
    load: drawing(name, 0.25),
    damage: {},
    ...change,
  };
}

export function reservoir(farads: number, change: Partial<ReservoirDescription> = {}): ReservoirDescription {
  return {
    farads: about('farads', farads, 0.2),
    esr: about('esr', 0.05),
    bleedOhms: Infinity,
    load: drawing('reservoir', 0),
    ...change,
  };
}

/** The signal cabin in numbers: 15 V 30 VA, bridge, 4700 uF, 12 V lamps by an LM317 and 5 V logic by a 7805. */
export function signalCabin(change: Partial<SupplyDescription> = {}): SupplyDescription {
  return {
    name: 'signal cabin',
    mains: { ratedVolts: 230, volts: about('mainsVolts', 230), hertz: 50 },
    ambient: { name: 'ambient', low: 10, typical: 22, high: 35 },
    enclosureRise: certain('enclosureRise', 5),
    transformer: {
      windings: 'single',
      secondaryVolts: about('windingVolts', 15, 0.03),
      ratedAmps: 2,
      regulation: about('regulation', 0.12),
      ohmsShare: 1,
      wiringOhms: 0,
    },
    rectifier: {
      kind: 'bridge',
      diode: junctionDiode,
      dropOffset: certain('diodeOffset', 0),
      oneDiodeOpen: false,
    },
    reservoir: reservoir(4.7e-3, { bleedOhms: 4700 }),
    rails: [
      rail('lamps', { regulator: adjustableRegulator('lamps', 2050), load: drawing('lamps', 0.4) }),
      rail('logic'),
    ],
    heatsinks: {},
    ...change,
  };
}

/** Both polarities from a centre-tapped winding, 15 V each. */
export function splitCabin(change: Partial<SupplyDescription> = {}): SupplyDescription {
  const cabin = signalCabin();
  return signalCabin({
    name: 'signal cabin, split',
    transformer: { ...cabin.transformer, windings: 'centre-tapped' },
    rectifier: { ...cabin.rectifier, kind: 'split-bridge' },
    reservoir: reservoir(4.7e-3),
    negativeReservoir: reservoir(4.7e-3, {
      farads: about('negative-reservoir.farads', 4.7e-3, 0.2),
      esr: about('negative-reservoir.esr', 0.05),
    }),
    rails: [
      rail('points', { regulator: fixedRegulator('points', 12), load: drawing('points', 0.3) }),
      rail('bells', {
        polarity: 'negative',
        from: 'negative-reservoir',
        regulator: fixedRegulator('bells', 12),
        load: drawing('bells', 0.3),
      }),
    ],
    ...change,
  });
}

/** Every result of the supply as written. */
export function typicalResults(
  supply: SupplyDescription,
  load: LoadState = 'typical',
): Record<string, number> {
  const model = supplyModel(supply, load);
  const results = new Float64Array(model.outputs.length);
  model.evaluate(model.typicalDraw(), results);
  return Object.fromEntries(model.outputs.map((id, k) => [id, results[k]!]));
}

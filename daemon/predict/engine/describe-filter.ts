import type { Design } from '../../design/design.js';
import type { Filter } from '../../design/design-filter.js';
import type { Spread } from '../../design/parts/spread.js';
import { usualEsr } from '../doubts.js';
import { describeCooling } from './describe-cooling.js';
import { describeNodeLoad } from './describe-load.js';
import { named, share, TRANSISTOR_JUNCTION, within } from './spreads.js';
import type { FilterDescription, FollowerDescription, RcDescription } from './supply.js';

type Multiplier = Extract<Filter, { kind: 'multiplier' }>;
type Rc = Extract<Filter, { kind: 'rc' }>;

/** An electrolytic's tolerance, and a carbon or wirewound resistor's (common practice). */
const CAPACITOR_DOUBT = 0.2;
const RESISTOR_DOUBT = 0.05;

/** Power transistors at an ampere or so (from memory): gain, base-emitter and saturation volts. */
const BIPOLAR = {
  gain: { low: 40, typical: 100, high: 200 },
  baseEmitter: { low: 0.6, typical: 0.7, high: 0.9 },
  saturation: { low: 0.15, typical: 0.3, high: 0.8 },
} as const;
/** Two in one (from memory): makers guarantee a gain of 1000 at half the rated current. */
const DARLINGTON = {
  gain: { low: 700, typical: 1500, high: 5000 },
  baseEmitter: { low: 1.2, typical: 1.4, high: 1.8 },
  saturation: { low: 0.7, typical: 0.9, high: 1.4 },
} as const;
/** Gate-source volts at some amps: 3 to 4.5 V (from memory). On-resistance from memory, ohm. */
const GATE_SOURCE: Spread = { low: 3, typical: 3.7, high: 4.5 };
const ON_RESISTANCE: Spread = { low: 0.03, typical: 0.08, high: 0.2 };
/** A gain that is written holds for one transistor at one current. */
const WRITTEN_GAIN = { low: 0.6, high: 1.6 };
const WRITTEN_THRESHOLD_DOUBT = 0.15;

/** The filter behind the positive reservoir; `ohms` and `gain` of the design in the engine's words. */
export function describeFilter(filter: Filter, design: Design): FilterDescription {
  return filter.kind === 'rc' ? rcOf(filter) : multiplierOf(filter, design);
}

function network({ resistor, capacity_uF }: Filter) {
  return {
    resistance: named('filter.resistor', within(resistor, RESISTOR_DOUBT)),
    capacitance: named('filter.capacitance', within(capacity_uF * 1e-6, CAPACITOR_DOUBT)),
  };
}

function rcOf(filter: Rc): RcDescription {
  const { esr, capacity_uF } = filter;
  return {
    kind: 'rc',
    ...network(filter),
    esr: named(
      'filter.esr',
      esr === undefined ? share(usualEsr(capacity_uF * 1e-6), 0.3, 1.5) : share(esr, 0.7, 1.3),
    ),
    load: describeNodeLoad('filter', filter.load),
  };
}

function multiplierOf(filter: Multiplier, design: Design): FilterDescription {
  return {
    kind: 'multiplier',
    follower: followerOf(filter),
    ...network(filter),
    dividerOhms: filter.divider ?? Infinity,
    load: describeNodeLoad('filter', filter.load),
    cooling: describeCooling('filter', filter.cooling, design),
    junctionLimit: TRANSISTOR_JUNCTION,
    shorted: false,
  };
}

function followerOf({ follower, gain, threshold }: Multiplier): FollowerDescription {
  if (follower === 'mosfet') {
    const gate = threshold === undefined ? GATE_SOURCE : within(threshold, WRITTEN_THRESHOLD_DOUBT);
    return {
      kind: 'mosfet',
      gateSourceVolts: named('filter.threshold', gate),
      onResistance: named('filter.onResistance', ON_RESISTANCE),
    };
  }
  const usual = follower === 'darlington' ? DARLINGTON : BIPOLAR;
  const beta = gain === undefined ? usual.gain : share(gain, WRITTEN_GAIN.low, WRITTEN_GAIN.high);
  return {
    kind: follower,
    beta: named('filter.gain', beta),
    baseEmitterVolts: named('filter.baseEmitter', usual.baseEmitter),
    saturationVolts: named('filter.saturation', usual.saturation),
  };
}

import { E12, nearestInSeries } from '../design/parts/series.js';
import type { Design } from '../design/design.js';
import type { PartFigures } from './prediction.js';
import { rectifierCircuit } from './raw-dc.js';
import { solveLampLimited } from './rectifier/lamp-limiter.js';
import { secondsToSafe } from './rectifier/switch-off.js';
import { solveSwitchOn } from './rectifier/switch-on.js';
import type { SupplyState } from './work-out.js';

/** Below this a reservoir neither sparks nor harms a module that is plugged in (common practice), V. */
const EMPTY_VOLTS = 1;
/** A lamp for the limiter that hobbyists have at hand, W at the mains volts (common practice). */
const LAMP_WATTS = 60;

/** What happens when the switch is thrown and when it is opened again; what never ends is left out. */
export function switchingFigures({ mains, reservoir }: Design, { circuit, raw }: SupplyState): PartFigures {
  const solved = rectifierCircuit(circuit);
  const on = solveSwitchOn(solved);
  const toEmpty = secondsToSafe({
    capacitance: circuit.farads,
    fromVolts: raw.peak,
    safeVolts: EMPTY_VOLTS,
    loadCurrent: 0,
    loadResistance: Infinity,
    bleedResistance: reservoir.bleed ?? Infinity,
  });
  const limited = solveLampLimited(
    { ...solved, loadCurrent: 0 },
    { ratedWatts: LAMP_WATTS, ratedVolts: mains.volts },
    mains.volts,
  );
  return finiteOnly({
    inrushPeak_A: on.inrushPeakCurrent,
    chargeTime_s: on.secondsTo90Percent,
    emptyByBleedAfter_s: toEmpty,
    inrushPeakBehindLamp_A: limited.switchOnCold.inrushPeakCurrent,
    unloadedBehindLamp_V: limited.steady.meanVolts,
  });
}

/** A resistor for the soak before the real load: what draws the full amps, in a value and rating one can buy. */
export interface DummyLoad {
  /** Nearest E12 value, ohm. */
  readonly ohms: number;
  /** At least twice the heat, since a resistor at its rated watts is too hot to touch (common practice), W. */
  readonly ratedWatts: number;
}

const RATED_WATTS = [0.25, 0.5, 1, 2, 3, 5, 7, 10, 15, 25, 50, 100, 200];

/** Ohm's law and the derating by two; null when nothing is drawn. */
export function dummyLoad(volts: number, amps: number): DummyLoad | null {
  if (!(volts > 0 && amps > 0)) return null;
  const ohms = nearestInSeries(volts / amps, E12);
  const wanted = (2 * volts ** 2) / ohms;
  return { ohms, ratedWatts: RATED_WATTS.find((rating) => rating >= wanted) ?? Math.ceil(wanted) };
}

function finiteOnly(figures: PartFigures): PartFigures {
  return Object.fromEntries(Object.entries(figures).filter(([, value]) => Number.isFinite(value)));
}

import type { Rail } from './design.js';
import { shown, type Finding } from './file-problems.js';
import { REGULATORS, type Regulator } from './parts/regulators.js';
import { E24, E96, nearestInSeries } from './parts/series.js';
import { partVolts, type RailNeed } from './rail-need.js';

/** A setting that harms the load, with what was probably meant. */
export function checkSetVolts(path: readonly string[], rail: Rail, regulator: Regulator): Finding[] {
  const volts = partVolts(rail, regulator);
  const { low = -Infinity, high = Infinity } = rail.damage;
  if (volts >= low && volts <= high) return [];
  const [side, bound] = volts < low ? (['below', low] as const) : (['above', high] as const);
  const gives = `gives ${volts.toFixed(2)} V, ${side} the load's ${bound} V`;
  const allowed = `a setting from ${rail.damage.low ?? 0} to ${rail.damage.high ?? 'any'} V`;
  if (regulator.kind === 'adjustable') {
    const meant = sensibleR2(rail, regulator);
    const found = String(rail.r2);
    const sentence = `${found} ${gives}${meant === null ? '' : `; did you mean ${meant}?`}`;
    return [{ path: [...path, 'r2'], found, allowed, sentence }];
  }
  const fitting = [...REGULATORS.values()].find(
    ({ kind, polarity, volts: other }) =>
      kind === 'fixed' && polarity === regulator.polarity && other.typical >= low && other.typical <= high,
  );
  const sentence = `${regulator.name} ${gives}${fitting ? `; did you mean ${fitting.name}?` : ''}`;
  return [{ path: [...path, 'regulator'], found: shown(regulator.name), allowed, sentence }];
}

/** The same for what isn't a part of the library: its volts are written outright. */
export function checkWrittenVolts(path: readonly string[], rail: Rail, need: RailNeed): Finding[] {
  const { low = 0, high = Infinity } = rail.damage;
  const { volts, key, found } = need;
  if (volts >= low && volts <= high) return [];
  const [side, bound] = volts < low ? (['below', low] as const) : (['above', high] as const);
  const allowed = `a setting from ${low} to ${rail.damage.high ?? 'any'} V`;
  const sentence = `${found} gives ${volts.toFixed(2)} V, ${side} the load's ${bound} V; ${allowed} is allowed`;
  return [{ path: [...path, ...key], found, allowed, sentence }];
}

/** An R2 that keeps the load whole: a slip of the decimal point first, else the nearest E24 or E96 value. */
function sensibleR2(rail: Rail, regulator: Regulator): number | null {
  const { low, high } = rail.damage;
  const fits = (r2: number) => {
    const volts = partVolts({ r1: rail.r1, r2 }, regulator);
    return volts > (low ?? 0) && volts < (high ?? Infinity);
  };
  const slip = [10, 0.1, 100, 0.01].map((factor) => tidy((rail.r2 ?? NaN) * factor)).find(fits);
  if (slip !== undefined) return slip;
  const target =
    low !== undefined && high !== undefined
      ? (low + high) / 2
      : low !== undefined
        ? low * 1.05
        : (high ?? 0) * 0.95;
  const exact =
    (target - regulator.volts.typical) /
    (regulator.volts.typical / (rail.r1 ?? NaN) + regulator.adjustAmps.typical);
  if (!(exact > 0)) return null;
  return [E24, E96].map((series) => nearestInSeries(exact, series)).find(fits) ?? null;
}

function tidy(value: number): number {
  return Number(value.toPrecision(6));
}

import type { Design, Rail } from './design.js';
import { shown, type Finding } from './file-problems.js';
import { DIODES, diodeNamed } from './parts/diodes.js';
import { adjustedVolts, REGULATORS, type Regulator } from './parts/regulators.js';
import { E24, E96, nearestInSeries } from './parts/series.js';
import { windingOf } from './parts/transformers.js';
import { unloadedPeak } from './raw-peak.js';

/** What a rail is set to with every part as written, V. */
function setVolts(rail: Pick<Rail, 'r1' | 'r2'>, regulator: Regulator): number {
  const { volts, adjustAmps } = regulator;
  if (regulator.kind === 'fixed') return volts.typical;
  return adjustedVolts(volts.typical, rail.r1 ?? NaN, rail.r2 ?? NaN, adjustAmps.typical);
}

/** A setting that harms the load, with what was probably meant. */
export function checkSetVolts(path: readonly string[], rail: Rail, regulator: Regulator): Finding[] {
  const volts = setVolts(rail, regulator);
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
      kind === 'fixed' && polarity === 'positive' && other.typical >= low && other.typical <= high,
  );
  const sentence = `${regulator.name} ${gives}${fitting ? `; did you mean ${fitting.name}?` : ''}`;
  return [{ path: [...path, 'regulator'], found: shown(regulator.name), allowed, sentence }];
}

/** An R2 that keeps the load whole: a slip of the decimal point first, else the nearest E24 or E96 value. */
function sensibleR2(rail: Rail, regulator: Regulator): number | null {
  const { low, high } = rail.damage;
  const fits = (r2: number) => {
    const volts = setVolts({ r1: rail.r1, r2 }, regulator);
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

/** Raw volts that can't reach the rail however little is drawn: no load, nominal mains. */
export function checkReach(
  path: readonly string[],
  rail: Rail,
  regulator: Regulator,
  design: Design,
): Finding[] {
  const volts = setVolts(rail, regulator);
  if (rail.from !== 'reservoir') return checkFeed(path, rail, regulator, design);
  const highestRaw = highestRawVolts(design);
  if (highestRaw === null) return [];
  const needed = volts + regulator.dropout.low;
  if (highestRaw >= needed) return [];
  const key = regulator.kind === 'adjustable' ? 'r2' : 'regulator';
  const found = regulator.kind === 'adjustable' ? String(rail.r2) : shown(regulator.name);
  const possible = (highestRaw - regulator.dropout.low).toFixed(1);
  const winding = Math.ceil((design.transformer.volts * (volts + regulator.dropout.high)) / highestRaw);
  const allowed = `at most ${possible} V from a ${design.transformer.volts} V winding`;
  const sentence =
    `asks for ${volts.toFixed(2)} V, but a ${design.transformer.volts} V winding gives at most ` +
    `${highestRaw.toFixed(1)} V unloaded, so at most ${possible} V after the regulator; ` +
    `lower the rail, or take a winding of at least ${winding} V`;
  return [{ path: [...path, key], found, allowed, sentence }];
}

/** A rail fed from another one that is too low for it. */
function checkFeed(path: readonly string[], rail: Rail, regulator: Regulator, { rails }: Design): Finding[] {
  const feeding = rails[rail.from];
  const source = feeding && REGULATORS.get(feeding.regulator);
  if (!feeding || !source) return [];
  const given = setVolts(feeding, source);
  const needed = setVolts(rail, regulator) + regulator.dropout.low;
  if (!(given < needed)) return [];
  const found = shown(rail.from);
  const allowed = `a source of at least ${needed.toFixed(1)} V`;
  const sentence = `${rail.from} gives ${given.toFixed(2)} V, but this rail needs ${needed.toFixed(1)} V at its input; ${allowed} is allowed`;
  return [{ path: [...path, 'from'], found, allowed, sentence }];
}

/** Null while other parts are wrong. */
function highestRawVolts({ transformer, rectifier }: Design): number | null {
  if ((transformer.va ?? transformer.amps) === undefined || !DIODES.has(rectifier.diode)) return null;
  const { kind, diode } = rectifier;
  return unloadedPeak(windingOf(transformer, kind), { kind, law: diodeNamed(diode).law });
}

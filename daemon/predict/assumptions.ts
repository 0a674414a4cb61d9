import type { Design } from '../design/design.js';
import { windingOf } from '../design/parts/transformers.js';
import type { Assumption } from './prediction.js';
import { HEATSINK_DOUBT, LOAD_DOUBT, usualEsr, WINDING_DOUBT } from './doubts.js';

/** Why a default of the design file is what it is, by key; `*` stands for a rail's name. */
const BECAUSE: Readonly<Record<string, string>> = {
  'mains.tolerance': 'EN 50160: within 10 % for 95 % of each week',
  'mains.ambient': 'a heated room, and a hot day',
  'mains.enclosure_rise': 'a ventilated box (from memory)',
  'rectifier.diode': 'the commonest 1 A rectifier',
  'reservoir.tolerance_percent': 'IEC 60062 letter M, usual for electrolytics (from memory)',
  'rails.*.resistor_tolerance_percent': 'metal film',
  'rails.*.cooling.package': 'the usual case of three-terminal regulators',
  'rails.*.cooling.interface': 'common practice',
};

/** Everything that the predictions rest on and the design didn't say. */
export function assumptionsOf(design: Design): Assumption[] {
  const defaults = (design.defaulted ?? []).flatMap((key) => {
    const because = BECAUSE[key.replace(/^rails\.[^.]+\./, 'rails.*.')];
    return because === undefined ? [] : [{ key, value: valueAt(design, key), because }];
  });
  return [...defaults, ...leftOut(design), ...alwaysAssumed(design)];
}

function leftOut(design: Design): Assumption[] {
  const { reservoir, rectifier, transformer } = design;
  const winding = windingOf(transformer, rectifier.kind);
  const assumed: Assumption[] = [];
  if (winding.regulationFrom === 'usual') {
    const halves = rectifier.kind === 'centre-tap' || rectifier.kind === 'split-bridge' ? 2 : 1;
    const because = `usual for ${rounded(halves * winding.ratedVolts * winding.ratedAmps)} VA; makers differ by a third (from memory)`;
    assumed.push({
      key: 'transformer.regulation_percent',
      value: rounded(winding.regulation * 100),
      because,
    });
  }
  if (reservoir.esr === undefined) {
    const because = 'loss factor 0.15 at 100 Hz, a general-purpose electrolytic (from memory)';
    assumed.push({ key: 'reservoir.esr', value: rounded(usualEsr(reservoir.capacity_uF * 1e-6)), because });
  }
  if (reservoir.working_volts === undefined) {
    assumed.push({
      key: 'reservoir.working_volts',
      value: 'not checked',
      because: "the design doesn't say it",
    });
  }
  for (const [name, { damage }] of Object.entries(design.rails)) {
    if (damage.low !== undefined || damage.high !== undefined) continue;
    const because = "the design doesn't say what volts harm the load";
    assumed.push({ key: `rails.${name}.damage`, value: 'not checked', because });
  }
  return assumed;
}

/** What no design file says, yet every band rests on. */
function alwaysAssumed(design: Design): Assumption[] {
  const sunk = Object.entries(design.rails)
    .filter(
      ([, { cooling }]) => typeof cooling?.heatsink === 'number' || typeof cooling?.heatsink === 'object',
    )
    .map(([name]) => `rails.${name}.cooling.heatsink`);
  const shared = Object.keys(design.heatsinks ?? {}).map((name) => `heatsinks.${name}`);
  return [
    {
      key: 'transformer.volts',
      value: `±${percent(WINDING_DOUBT)} %`,
      because: 'from part to part (from memory)',
    },
    ...Object.keys(design.rails).map((name) => ({
      key: `rails.${name}.load`,
      value: `±${percent(LOAD_DOUBT)} %`,
      because: 'a load seldom draws exactly what is written (common practice)',
    })),
    ...[...sunk, ...shared].map((key) => ({
      key,
      value: `-${percent(1 - HEATSINK_DOUBT.low)} to +${percent(HEATSINK_DOUBT.high - 1)} %`,
      because: 'catalogue K/W holds at one temperature rise and one way of standing (from memory)',
    })),
  ];
}

function percent(share: number): number {
  return Math.round(share * 100);
}

function rounded(value: number): number {
  return Number(value.toPrecision(3));
}

function valueAt(design: Design, key: string): number | string {
  const value = key.split('.').reduce<unknown>((inner, part) => {
    return typeof inner === 'object' && inner !== null ? (inner as Record<string, unknown>)[part] : undefined;
  }, design);
  if (typeof value === 'number' || typeof value === 'string') return value;
  return Object.entries(value ?? {})
    .map(([name, inner]) => `${name} ${String(inner)}`)
    .join(', ');
}

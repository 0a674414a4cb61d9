import type { Design } from './design.js';
import { ampsAt, type LoadStates } from './design-load.js';
import { shown, type Finding } from './file-problems.js';

/** Transformer, rectifier, reservoirs and filter against each other. */
export function checkSource(design: Design): Finding[] {
  return [
    ...checkRating(design),
    ...checkWindings(design),
    ...checkNegativeReservoir(design),
    ...checkLoads(design),
  ];
}

/** Whether a rectifier takes one half of the winding at a time, or both for two polarities. */
export function wantsCentreTap(kind: Design['rectifier']['kind']): boolean {
  return kind === 'centre-tap' || kind === 'split-bridge';
}

function checkRating({ transformer, rectifier }: Design): Finding[] {
  const findings: Finding[] = [];
  const { va, amps, regulation_percent: regulation, winding_ohms: ohms } = transformer;
  if (va === undefined && amps === undefined) {
    const allowed = 'va (its rating in VA) or amps (its rated secondary RMS amps)';
    findings.push({
      path: ['transformer'],
      found: '',
      allowed,
      sentence: `its rating is missing; ${allowed} is needed`,
    });
  }
  const ratedAmps = (va ?? 0) / transformer.volts / (wantsCentreTap(rectifier.kind) ? 2 : 1);
  if (va !== undefined && amps !== undefined && Math.abs(ratedAmps / amps - 1) > 0.1) {
    const allowed = `${ratedAmps.toPrecision(3)}, or one of va and amps alone,`;
    const sentence = `found ${amps}, which contradicts ${va} VA at ${transformer.volts} V; ${allowed} is allowed`;
    findings.push({ path: ['transformer', 'amps'], found: String(amps), allowed, sentence });
  }
  if (regulation !== undefined && ohms !== undefined) {
    const allowed = 'regulation_percent or winding_ohms, not both,';
    const sentence = `found beside regulation_percent; ${allowed} is allowed, since one gives the other`;
    findings.push({ path: ['transformer', 'winding_ohms'], found: String(ohms), allowed, sentence });
  }
  return findings;
}

/** A split bridge on whole-winding volts would come out at twice the volts, so its tap must be written down. */
function checkWindings({ transformer: { windings, volts }, rectifier: { kind } }: Design): Finding[] {
  const path = ['transformer', 'windings'];
  if (wantsCentreTap(kind)) {
    if (windings === 'centre-tapped' || (windings === undefined && kind === 'centre-tap')) return [];
    const allowed = `centre-tapped, with the volts of one half (${volts / 2} V if ${volts} V is the whole winding),`;
    const found = shown(windings);
    const sentence = `found ${found}, but a ${kind} rectifier needs a centre tap; ${allowed} is allowed`;
    return [{ path, found, allowed, sentence }];
  }
  if (windings !== 'centre-tapped') return [];
  const allowed = `single, with the volts of the whole winding (${2 * volts} V if ${volts} V is one half),`;
  const sentence =
    `found "centre-tapped", but a ${kind} rectifier doesn't use the tap; ${allowed} is allowed, ` +
    'or take centre-tap or split-bridge as the rectifier';
  return [{ path, found: shown(windings), allowed, sentence }];
}

function checkNegativeReservoir({ negative_reservoir, rectifier: { kind } }: Design): Finding[] {
  if (negative_reservoir === undefined || kind === 'split-bridge') return [];
  const allowed = 'a negative reservoir behind a split-bridge rectifier';
  const sentence = `a ${kind} rectifier charges one reservoir only; ${allowed} is allowed, so leave it out or change the rectifier`;
  return [{ path: ['negative_reservoir'], found: 'a group of keys', allowed, sentence }];
}

/** More drawn in idle than in typical, or in typical than at full load. */
function checkLoads({ transformer, reservoir, negative_reservoir, filter }: Design): Finding[] {
  const peak = Math.SQRT2 * transformer.volts;
  const nodes = [
    ['reservoir', reservoir.load],
    ['negative_reservoir', negative_reservoir?.load],
    ['filter', filter?.load],
  ] as const;
  return nodes.flatMap(([node, load]) => (load === undefined ? [] : checkLoadOrder([node], load, peak)));
}

const STEPS = [
  ['typical', 'idle'],
  ['full', 'typical'],
] as const;

/** A state that draws less at these volts than the one below it. */
export function checkLoadOrder(path: readonly string[], load: LoadStates, volts: number): Finding[] {
  return STEPS.filter(([more, less]) => ampsAt(load[more], volts) < ampsAt(load[less], volts)).map(
    ([more, less]) => {
      const plain = typeof load[less] === 'number' ? ` (${load[less]})` : '';
      const allowed = `at least the ${less} amps${plain}`;
      const found = shown(load[more]);
      return {
        path: [...path, 'load', more],
        found,
        allowed,
        sentence: `found ${found}; ${allowed} is allowed`,
      };
    },
  );
}

import type { Design } from '../design/design.js';
import { windingOf } from '../design/parts/transformers.js';
import type { AdviceStates } from './advice.js';
import { partWords, regulatorOf } from './part-words.js';
import type { Advice } from './prediction.js';

/** The reservoir of this name as the design has it; a negative one that is left out is like the other. */
export function reservoirNamed(name: string, design: Design): Design['reservoir'] {
  return name === 'reservoir' ? design.reservoir : (design.negative_reservoir ?? design.reservoir);
}

function called(reservoir: string): string {
  return reservoir === 'reservoir' ? 'The reservoir' : 'The negative reservoir';
}

/** Working volts of a reservoir against the unloaded peak at the highest mains. */
export function capacitorVoltsAdvice(
  reservoir: string,
  { design, mains, highestPeak: peak }: AdviceStates,
): Advice[] {
  const rated = reservoirNamed(reservoir, design).working_volts;
  if (rated === undefined || peak <= rated) return [];
  return [
    {
      finding: 'capacitor-volts',
      about: reservoir,
      severity: 'destroys',
      sentence: `${called(reservoir)} charges to ${peak.toFixed(1)} V with nothing drawn at ${mains.high.toFixed(0)} V mains; it is made for ${rated} V and may burst.`,
      numbers: { peak_V: peak, workingVolts_V: rated, mains_Vrms: mains.high },
      reason: 'peak = sqrt 2 x unloaded secondary at the highest mains, less the diodes on the way',
      cure: `Fit a capacitor of at least ${nextWorkingVolts(peak)} V.`,
    },
  ];
}

/** Usual working volts of electrolytics (from memory; IEC 60063 steps R5 and between). */
const WORKING_VOLTS = [6.3, 10, 16, 25, 35, 50, 63, 80, 100, 160, 200];

function nextWorkingVolts(volts: number): number {
  return WORKING_VOLTS.find((rating) => rating >= volts) ?? Math.ceil(volts);
}

/** The most a regulator takes at its input against the unloaded peak at the highest mains; a filter passes it on. */
export function inputVoltsAdvice(rail: string, { design, mains, highestPeak: peak }: AdviceStates): Advice[] {
  const regulator = regulatorOf(rail, design);
  const most = regulator?.highestInput ?? regulator?.highestDifference;
  const from = design.rails[rail]?.from ?? '';
  if (Object.hasOwn(design.rails, from) || most === undefined || peak <= most) return [];
  const part = partWords(rail, design);
  return [
    {
      finding: 'regulator-input-volts',
      about: rail,
      severity: 'destroys',
      sentence: `The ${part} of ${rail} sees ${peak.toFixed(1)} V at its input with nothing drawn at ${mains.high.toFixed(0)} V mains; it takes ${most} V.`,
      numbers: { peak_V: peak, limit_V: most, mains_Vrms: mains.high },
      reason: `absolute maximum of the ${part} datasheet; at switch-on the output is still at 0 V`,
      cure: 'Take a winding of fewer volts, or a regulator that takes more.',
    },
  ];
}

/** RMS current against the transformer's rating. */
export function transformerAdvice({ design, full }: AdviceStates): Advice[] {
  const { windingAmps, drawnAmps, starved } = full;
  const { kind } = design.rectifier;
  const { ratedAmps, ratedVolts } = windingOf(design.transformer, kind);
  if (!starved && windingAmps <= ratedAmps) return [];
  const halves = kind === 'centre-tap' || kind === 'split-bridge' ? 2 : 1;
  const draws = starved
    ? `can't deliver what all rails draw at full load; it gives out at ${drawnAmps.toFixed(2)} A`
    : `carries ${windingAmps.toFixed(2)} A RMS at full load`;
  const va = Math.ceil((starved ? drawnAmps * 1.8 : windingAmps) * ratedVolts * halves);
  return [
    {
      finding: 'transformer-overload',
      about: 'transformer',
      severity: 'destroys',
      sentence: `The transformer's secondary ${draws}; it is made for ${ratedAmps.toFixed(2)} A.`,
      numbers: { secondary_Arms: windingAmps, rated_Arms: ratedAmps, mean_A: drawnAmps },
      reason:
        'charging pulses are short and tall, so their RMS is 1.6 to 1.8 times the direct current; Schade, Proc. IRE 1943',
      cure: `Take a transformer of at least ${va} VA, or draw less.`,
    },
  ];
}

/** Ripple current of a reservoir against its rating. */
export function capacitorAmpsAdvice(reservoir: string, { design, full }: AdviceStates): Advice[] {
  const rated = reservoirNamed(reservoir, design).ripple_amps;
  const amps = full.reservoirs.get(reservoir)?.capacitorAmps ?? 0;
  if (rated === undefined || amps <= rated) return [];
  return [
    {
      finding: 'capacitor-ripple-current',
      about: reservoir,
      severity: 'misbehaves',
      sentence: `${called(reservoir)} carries ${amps.toFixed(2)} A RMS of ripple current at full load; it is rated ${rated} A, so it runs hot and dries out early.`,
      numbers: { ripple_Arms: amps, rated_Arms: rated },
      reason: 'sqrt(pulse RMS^2 - mean^2); ripple current heats through the ESR, textbook',
      cure: 'Fit a capacitor of a higher ripple rating, or two in parallel.',
    },
  ];
}

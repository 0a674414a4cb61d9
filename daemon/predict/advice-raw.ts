import type { AdviceStates } from './advice.js';
import type { Advice } from './prediction.js';

/** Working volts of the reservoir against the unloaded peak at the highest mains. */
export function capacitorVoltsAdvice({ facts, mains, highestPeak: peak }: AdviceStates): Advice[] {
  const rated = facts.design.reservoir.working_volts;
  if (rated === undefined || peak <= rated) return [];
  return [
    {
      finding: 'capacitor-volts',
      about: 'reservoir',
      severity: 'destroys',
      sentence: `The reservoir charges to ${peak.toFixed(1)} V with nothing drawn at ${mains.high.toFixed(0)} V mains; it is made for ${rated} V and may burst.`,
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

/** The most a regulator takes at its input against the unloaded peak at the highest mains. */
export function inputVoltsAdvice(rail: string, { facts, mains, highestPeak: peak }: AdviceStates): Advice[] {
  const regulator = facts.regulators[rail];
  const most = regulator?.highestInput ?? regulator?.highestDifference;
  const fromReservoir = facts.design.rails[rail]?.from === 'reservoir';
  if (!regulator || !fromReservoir || most === undefined || peak <= most) return [];
  return [
    {
      finding: 'regulator-input-volts',
      about: rail,
      severity: 'destroys',
      sentence: `The ${regulator.name} of ${rail} sees ${peak.toFixed(1)} V at its input with nothing drawn at ${mains.high.toFixed(0)} V mains; it takes ${most} V.`,
      numbers: { peak_V: peak, limit_V: most, mains_Vrms: mains.high },
      reason: `absolute maximum of the ${regulator.name} datasheet; at switch-on the output is still at 0 V`,
      cure: 'Take a winding of fewer volts, or a regulator that takes more.',
    },
  ];
}

/** RMS current against the transformer's rating. */
export function transformerAdvice({ facts, full }: AdviceStates): Advice[] {
  const { raw } = full;
  const { ratedAmps, ratedVolts } = facts.winding;
  if (!raw.starved && raw.secondaryRms <= ratedAmps) return [];
  const numbers = { secondary_Arms: raw.secondaryRms, rated_Arms: ratedAmps, mean_A: raw.amps };
  const draws = raw.starved
    ? `can't deliver what all rails draw at full load; it gives out at ${raw.amps.toFixed(2)} A`
    : `carries ${raw.secondaryRms.toFixed(2)} A RMS at full load`;
  const va = Math.ceil((raw.starved ? raw.amps * 1.8 : raw.secondaryRms) * ratedVolts);
  return [
    {
      finding: 'transformer-overload',
      about: 'transformer',
      severity: 'destroys',
      sentence: `The transformer's secondary ${draws}; it is made for ${ratedAmps.toFixed(2)} A.`,
      numbers,
      reason:
        'charging pulses are short and tall, so their RMS is 1.6 to 1.8 times the direct current; Schade, Proc. IRE 1943',
      cure: `Take a transformer of at least ${va} VA, or draw less.`,
    },
  ];
}

/** Ripple current of the reservoir against its rating. */
export function capacitorAmpsAdvice({ facts, full }: AdviceStates): Advice[] {
  const rated = facts.design.reservoir.ripple_amps;
  const amps = full.raw.capacitorRms;
  if (rated === undefined || amps <= rated) return [];
  return [
    {
      finding: 'capacitor-ripple-current',
      about: 'reservoir',
      severity: 'misbehaves',
      sentence: `The reservoir carries ${amps.toFixed(2)} A RMS of ripple current at full load; it is rated ${rated} A, so it runs hot and dries out early.`,
      numbers: { ripple_Arms: amps, rated_Arms: rated },
      reason: 'sqrt(pulse RMS^2 - mean^2); ripple current heats through the ESR, textbook',
      cure: 'Fit a capacitor of a higher ripple rating, or two in parallel.',
    },
  ];
}

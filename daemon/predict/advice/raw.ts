import { windingOf } from '../../design/parts/transformers.js';
import { reservoirNamed } from '../described-parts.js';
import { partsOf } from '../../design/own-parts.js';
import { partWords, regulatorOf } from '../part-words.js';
import type { Design } from '../../design/design.js';
import type { Candidate, Problem } from './problem.js';
import type { AdviceStates } from './states.js';
import { TRANSFORMER_VA, WINDING_VOLTS, WORKING_VOLTS } from './values-to-buy.js';

function called(reservoir: string): string {
  return reservoir === 'reservoir' ? 'The reservoir' : 'The negative reservoir';
}

/** The key under which a reservoir's values stand. */
function keyOf(reservoir: string, { negative_reservoir }: Design): string {
  return reservoir !== 'reservoir' && negative_reservoir !== undefined ? 'negative_reservoir' : 'reservoir';
}

/** Working volts of a reservoir against the unloaded peak at the highest mains. */
export function capacitorVoltsProblems(
  reservoir: string,
  { design, mains, highestPeak: peak }: AdviceStates,
): Problem[] {
  const rated = reservoirNamed(reservoir, design).working_volts;
  if (rated === undefined || peak <= rated) return [];
  const key = `${keyOf(reservoir, design)}.working_volts`;
  return [
    {
      finding: 'capacitor-volts',
      about: reservoir,
      severity: 'destroys',
      sentence: `${called(reservoir)} charges to ${peak.toFixed(1)} V with nothing drawn at ${mains.high.toFixed(0)} V mains; it is made for ${rated} V and may burst.`,
      numbers: { peak_V: peak, workingVolts_V: rated, mains_Vrms: mains.high },
      reason: 'peak = sqrt 2 x unloaded secondary at the highest mains, less the diodes on the way',
      ways: [
        WORKING_VOLTS.filter((volts) => volts >= peak).map((volts) => ({
          words: `fit a capacitor of at least ${volts} V`,
          changes: [{ key, value: volts }],
        })),
      ],
      otherwise: `Fit capacitors that take ${Math.ceil(peak)} V.`,
    },
  ];
}

/** The most a regulator takes at its input against the unloaded peak at the highest mains; a filter passes it on. */
export function inputVoltsProblems(
  rail: string,
  { design, mains, highestPeak: peak }: AdviceStates,
): Problem[] {
  const regulator = regulatorOf(rail, design);
  const most = regulator?.highestInput ?? regulator?.highestDifference;
  const from = design.rails[rail]?.from ?? '';
  if (regulator === null || Object.hasOwn(design.rails, from) || most === undefined || peak <= most)
    return [];
  const part = partWords(rail, design);
  const tougher = [...partsOf(design).regulators.values()].filter(
    ({ kind, polarity, volts, highestInput, highestDifference = highestInput }) =>
      kind === regulator.kind &&
      polarity === regulator.polarity &&
      volts.typical === regulator.volts.typical &&
      (highestDifference ?? 0) >= peak,
  );
  return [
    {
      finding: 'regulator-input-volts',
      about: rail,
      severity: 'destroys',
      sentence: `The ${part} of ${rail} sees ${peak.toFixed(1)} V at its input with nothing drawn at ${mains.high.toFixed(0)} V mains; it takes ${most} V.`,
      numbers: { peak_V: peak, limit_V: most, mains_Vrms: mains.high },
      reason: `absolute maximum of the ${part} datasheet; at switch-on the output is still at 0 V`,
      ways: [
        fewerVolts(design),
        tougher.map(({ name }) => ({
          words: `take the ${name}, which takes more`,
          changes: [{ key: `rails.${rail}.regulator`, value: name }],
        })),
      ],
      otherwise: 'Take a winding of fewer volts, or a regulator that takes more.',
    },
  ];
}

/** Windings below the design's, the next one first. */
function fewerVolts({ transformer }: Design): Candidate[] {
  return WINDING_VOLTS.filter((fewer) => fewer < transformer.volts)
    .reverse()
    .map((fewer) => ({
      words: `take a winding of ${fewer} V`,
      changes: [{ key: 'transformer.volts', value: fewer }],
    }));
}

/** RMS current against the transformer's rating. */
export function transformerProblems({ design, full }: AdviceStates): Problem[] {
  const { windingAmps, drawnAmps, starved } = full;
  const { kind } = design.rectifier;
  const { ratedAmps, ratedVolts } = windingOf(design.transformer, kind);
  if (!starved && windingAmps <= ratedAmps) return [];
  const halves = kind === 'centre-tap' || kind === 'split-bridge' ? 2 : 1;
  const draws = starved
    ? `can't deliver what all rails draw at full load; it gives out at ${drawnAmps.toFixed(2)} A`
    : `carries ${windingAmps.toFixed(2)} A RMS at full load`;
  return [
    {
      finding: 'transformer-overload',
      about: 'transformer',
      severity: 'destroys',
      sentence: `The transformer's secondary ${draws}; it is made for ${ratedAmps.toFixed(2)} A.`,
      numbers: { secondary_Arms: windingAmps, rated_Arms: ratedAmps, mean_A: drawnAmps },
      reason:
        'charging pulses are short and tall, so their RMS is well above the direct current: 1.6 to 1.8 times behind a bridge; Schade, Proc. IRE 1943',
      ways: [largerTransformers(design, halves * ratedVolts * ratedAmps, halves * ratedVolts)],
      otherwise: 'Take a larger transformer, or draw less.',
    },
  ];
}

/** Larger ratings, the smallest first; written as the design has it, in VA or in amps. */
function largerTransformers({ transformer }: Design, va: number, volts: number): Candidate[] {
  return TRANSFORMER_VA.filter((larger) => larger > va).map((larger) => ({
    words: `take a transformer of at least ${larger} VA`,
    changes: [
      transformer.amps === undefined
        ? { key: 'transformer.va', value: larger }
        : { key: 'transformer.amps', value: larger / volts },
      // Resistance that was measured on the smaller one says nothing of the larger one.
      ...(transformer.winding_ohms === undefined
        ? []
        : [{ key: 'transformer.winding_ohms', value: (transformer.winding_ohms * va) / larger }]),
    ],
  }));
}

/** Ripple current of a reservoir against its rating. */
export function capacitorAmpsProblems(reservoir: string, { design, full }: AdviceStates): Problem[] {
  const rated = reservoirNamed(reservoir, design).ripple_amps;
  const amps = full.reservoirs.get(reservoir)?.capacitorAmps ?? 0;
  if (rated === undefined || amps <= rated) return [];
  const needed = Math.ceil(amps * 10) / 10;
  const key = `${keyOf(reservoir, design)}.ripple_amps`;
  return [
    {
      finding: 'capacitor-ripple-current',
      about: reservoir,
      severity: 'misbehaves',
      sentence: `${called(reservoir)} carries ${amps.toFixed(2)} A RMS of ripple current at full load; it is rated ${rated} A, so it runs hot and dries out early.`,
      numbers: { ripple_Arms: amps, rated_Arms: rated },
      reason: 'sqrt(pulse RMS^2 - mean^2); ripple current heats through the ESR, textbook',
      ways: [
        [
          {
            words: `fit a capacitor rated for ${needed} A RMS of ripple, or two of half the capacitance in parallel`,
            changes: [{ key, value: needed }],
          },
        ],
      ],
      otherwise: 'Fit a capacitor of a higher ripple rating, or two in parallel.',
    },
  ];
}

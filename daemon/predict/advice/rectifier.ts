import type { Design, RectifierKind } from '../../design/design.js';
import { diodeOf, partsOf } from '../../design/own-parts.js';
import type { Diode } from '../../design/parts/diodes.js';
import type { PartFigures } from '../prediction.js';
import type { Candidate, Problem } from './problem.js';
import type { AdviceStates } from './states.js';

/** Times the unloaded peak of one reservoir that a diode holds off (textbook). */
const REVERSE_PEAKS: Readonly<Record<RectifierKind, 1 | 2>> = {
  bridge: 1,
  'centre-tap': 2,
  'half-wave': 2,
  'split-bridge': 2,
};

/** Surge at switch-on, reverse volts and mean current against the diode's ratings. */
export function rectifierProblems(states: AdviceStates): Problem[] {
  const { design, mains } = states;
  const diode = diodeOf(design);
  if (diode === null) return [];
  const strains = strainsOf(states);
  const { name } = diode;
  const ways = [diodeCandidates(design, strains)];
  const otherwise = 'Take a stronger diode or bridge.';
  const about = 'rectifier';
  const severity = 'destroys';
  const problem = (
    finding: string,
    strained: boolean,
    words: { sentence: string; reason: string; numbers: PartFigures },
  ): Problem[] => (strained ? [{ finding, about, severity, ways, otherwise, ...words }] : []);
  return [
    ...problem('diode-surge', strains.surge > diode.surgeAmps, {
      sentence: `Switched on at the worst moment of ${mains.high.toFixed(0)} V mains, the ${name} carries ${strains.surge.toFixed(0)} A; it survives one surge of ${diode.surgeAmps} A.`,
      numbers: { inrush_A: strains.surge, surge_A: diode.surgeAmps },
      reason: `first half cycle into an empty reservoir through winding and ESR; IFSM of the ${name} datasheet`,
    }),
    ...problem('diode-reverse-volts', strains.reverse > diode.repetitiveReverseVolts, {
      sentence: `Each ${name} holds off ${strains.reverse.toFixed(0)} V with nothing drawn at ${mains.high.toFixed(0)} V mains; it is made for ${diode.repetitiveReverseVolts} V.`,
      numbers: { reverse_V: strains.reverse, rated_V: diode.repetitiveReverseVolts },
      reason: 'one unloaded peak in a bridge, two with a centre tap or half-wave; textbook',
    }),
    ...problem('diode-current', strains.mean > ratedMean(diode, design), {
      sentence: `The rectifier carries ${strains.mean.toFixed(2)} A at full load; with the ${name} it is made for ${ratedMean(diode, design)} A.`,
      numbers: { mean_A: strains.mean, rated_A: ratedMean(diode, design) },
      reason: `mean rectified current of the ${name} datasheet; half-wave has one diode for all of it`,
    }),
  ];
}

interface Strains {
  /** A, once. */
  readonly surge: number;
  /** V, each cycle. */
  readonly reverse: number;
  /** A, all the time; of the polarity that draws more, since each has its own two diodes of a split bridge. */
  readonly mean: number;
}

function strainsOf({ design, inrushAmps, highestPeak, full }: AdviceStates): Strains {
  return {
    surge: inrushAmps,
    reverse: REVERSE_PEAKS[design.rectifier.kind] * highestPeak,
    mean: full.starved ? 0 : Math.max(...[...full.reservoirs.values()].map(({ drawnAmps }) => drawnAmps)),
  };
}

/** A diode's rating is for two that take turns. */
function ratedMean({ ratedAmps }: Diode, { rectifier }: Design): number {
  return rectifier.kind === 'half-wave' ? ratedAmps / 2 : ratedAmps;
}

/** Diodes of the library that stand all of it, the smallest first. */
function diodeCandidates(design: Design, { surge, reverse, mean }: Strains): Candidate[] {
  return [...partsOf(design).diodes.values()]
    .filter((part) => {
      const { surgeAmps, repetitiveReverseVolts } = part;
      return surgeAmps >= surge && repetitiveReverseVolts >= 1.5 * reverse && ratedMean(part, design) >= mean;
    })
    .sort((a, b) => a.ratedAmps - b.ratedAmps || a.repetitiveReverseVolts - b.repetitiveReverseVolts)
    .map(({ name }) => ({ words: `take the ${name}`, changes: [{ key: 'rectifier.diode', value: name }] }));
}

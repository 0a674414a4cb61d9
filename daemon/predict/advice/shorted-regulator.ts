import { E24 } from '../../design/parts/series.js';
import type { Problem } from './problem.js';
import type { AdviceStates } from './states.js';

/** A clamp stays this far from the set volts and from what harms the load, as a share (common practice). */
const CLAMP_SPARE = 0.05;

/** What a load sees when its regulator fails short and passes its input, and whether it survives. */
export function shortedRegulatorProblems(rail: string, states: AdviceStates): Problem[] {
  const { high } = states.design.rails[rail]?.damage ?? {};
  const seen = seenThroughShort(rail, states);
  if (high === undefined || seen <= high) return [];
  const set = states.full.rails.get(rail)?.setVolts ?? 0;
  const clamp = clampVolts(set, high);
  return [
    {
      finding: 'regulator-short',
      about: rail,
      severity: 'note',
      sentence: `If the regulator of ${rail} failed short, its load would see up to ${seen.toFixed(1)} V; it survives ${high} V.`,
      numbers: { seen_V: seen, survives_V: high },
      reason:
        'a regulator that overheats often fails short and passes its input; highest mains, nothing else drawn',
      ways: [],
      otherwise:
        clamp === null
          ? 'Power the load last, after the soak, and watch the rail while it runs.'
          : `Protect it with a crowbar or a clamp of ${clamp} V behind a fuse of its own, or power the load last, after the soak.`,
    },
  ];
}

/** Volts at a rail whose regulator passes its input, at the highest mains. */
export function seenThroughShort(rail: string, { design, highestPeak, fullHot }: AdviceStates): number {
  const from = design.rails[rail]?.from ?? 'reservoir';
  return fullHot.rails.get(from)?.setVolts ?? highestPeak;
}

/** An E24 value between the rail's volts and what harms its load; null when there is no room. */
function clampVolts(set: number, harms: number): number | null {
  const [low, high] = [set * (1 + CLAMP_SPARE), harms * (1 - CLAMP_SPARE)];
  const values = [1, 10, 100].flatMap((decade) =>
    E24.map((digit) => Number((digit * decade).toPrecision(3))),
  );
  return values.findLast((volts) => volts >= low && volts <= high) ?? null;
}

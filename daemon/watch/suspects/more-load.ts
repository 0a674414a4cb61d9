import { LOAD_STATES, type LoadState } from '../../design/design.js';
import { HEALTHY } from './clouds.js';
import { ROOM } from './evidence.js';
import { isSameSuspect, type Judgement, type Suspect } from './judgement.js';
import { testPoints, type SuspectModel } from './model.js';
import { nextPoint, type NextPoint } from './next-point.js';
import type { Posterior } from './posterior.js';
import { marksOf, type Settled } from './settled.js';

/** Of the doubt that is left, by one reading: nobody need switch a load for less. */
const WORTH_SWITCHING = 1 / 3;

/**
 * Where to probe with more load on, once no test point tells more under the load that is on: what gets warm only where
 * much is drawn hides there. The lightest load under which one reading clears up a good part of the doubt; null for
 * none, and where a fault leads, since the supply is switched off before anything else is done about that.
 * @param modelOf asked for one load after the other, as far as needed
 * @param candidates points that a probe can go to; by default every test point
 */
export function pointWithMoreLoad(
  { suspects }: Judgement,
  settled: readonly Settled[],
  load: LoadState,
  modelOf: (load: LoadState) => SuspectModel,
  candidates?: ReadonlySet<string>,
): NextPoint | null {
  const [leading, ...others] = suspects;
  const alike = leading?.alike ?? [];
  if (leading?.fault !== HEALTHY || alike.length === 0) return null;
  const doubted = [leading, ...others.filter((one) => alike.some((name) => isSameSuspect(name, one)))];
  const room = settled.filter(({ point }) => point === ROOM);
  for (const heavier of LOAD_STATES.slice(LOAD_STATES.indexOf(load) + 1)) {
    const model = modelOf(heavier);
    const found = asBefore(doubted, model);
    const point = nextPoint(model, marksOf(model.points, room), found, candidates ?? testPoints(model));
    if (point !== null && point.gainBits >= WORTH_SWITCHING * bitsOf(found.suspects)) {
      return { ...point, load: heavier };
    }
  }
  return null;
}

/** Those who are left, under another load and with nothing measured there. */
function asBefore(
  doubted: readonly Suspect[],
  { suspects }: SuspectModel,
): Pick<Posterior, 'suspects' | 'answers' | 'other'> {
  const total = doubted.reduce((sum, { probability }) => sum + probability, 0);
  const shares = suspects.map(
    (suspect) => (doubted.find((one) => isSameSuspect(one, suspect))?.probability ?? 0) / total,
  );
  const answers = suspects.flatMap(({ components }, suspect) =>
    components.map((component) => ({
      suspect,
      component,
      probability: shares[suspect]! * component.share,
    })),
  );
  return { suspects: shares, answers, other: 0 };
}

/** Entropy (Cover and Thomas, Elements of Information Theory, 2.1). */
function bitsOf(shares: readonly number[]): number {
  return shares.reduce((sum, share) => (share > 0 ? sum - share * Math.log2(share) : sum), 0);
}

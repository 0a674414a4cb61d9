import type { Design } from '../../design/design.js';
import { windingOf } from '../../design/parts/transformers.js';
import type { Problem } from './problem.js';
import type { AdviceStates } from './states.js';
import { FUSE_AMPS } from './values-to-buy.js';

/** A slow fuse starts at 1.5 to 2 times the rated primary current (common practice, from memory). */
const START_AT = 1.5;
/** Below the rated current it goes in use; far above it a transformer burns before it (from memory). */
const TOO_LARGE = 3;

const REASON = 'slow (T) fuse at 1.5 to 2 times VA / primary volts; common practice';
const DEFER = "It is a starting point: the transformer's maker and local codes decide.";

/** The primary fuse that is written against the transformer's rating. */
export function fuseProblems({ design }: AdviceStates): Problem[] {
  const { fuse_amps } = design.transformer;
  const { primaryAmps, fuseAmps } = usualFuse(design);
  const small = fuse_amps !== undefined && fuse_amps < primaryAmps;
  const large = fuse_amps !== undefined && fuse_amps > TOO_LARGE * primaryAmps;
  if (fuse_amps === undefined || (!small && !large)) return [];
  const sentence = small
    ? `The primary fuse of ${fuse_amps} A is less than the ${primaryAmps.toFixed(2)} A that the transformer draws at its rating; it will go in use.`
    : `The primary fuse of ${fuse_amps} A is more than ${TOO_LARGE} times the ${primaryAmps.toFixed(2)} A that the transformer draws at its rating; the transformer may burn before it goes.`;
  return [
    {
      finding: small ? 'fuse-small' : 'fuse-large',
      about: 'transformer',
      severity: small ? 'note' : 'misbehaves',
      sentence,
      numbers: { fuse_A: fuse_amps, primary_A: primaryAmps },
      reason: REASON,
      ways: [
        [
          {
            words: `fit a slow (T) fuse of ${fuseAmps} A`,
            changes: [{ key: 'transformer.fuse_amps', value: fuseAmps }],
          },
        ],
      ],
      otherwise: `Fit a slow (T) fuse of ${fuseAmps} A.`,
      besides: DEFER,
    },
  ];
}

/** Where a primary fuse starts. */
export interface UsualFuse {
  /** At the transformer's rating, A RMS. */
  readonly primaryAmps: number;
  readonly fuseAmps: number;
  readonly reason: string;
  readonly defer: string;
}

export function usualFuse({ mains, transformer, rectifier }: Design): UsualFuse {
  const { ratedVolts, ratedAmps } = windingOf(transformer, rectifier.kind);
  const halves = rectifier.kind === 'centre-tap' || rectifier.kind === 'split-bridge' ? 2 : 1;
  const primaryAmps = (halves * ratedVolts * ratedAmps) / mains.volts;
  const fuseAmps =
    FUSE_AMPS.find((amps) => amps >= START_AT * primaryAmps) ?? Math.ceil(START_AT * primaryAmps);
  return { primaryAmps, fuseAmps, reason: REASON, defer: DEFER };
}

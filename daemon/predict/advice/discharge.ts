import { bledFarads, reservoirNamed } from '../described-parts.js';
import { secondsToSafe } from '../rectifier/switch-off.js';
import type { Problem } from './problem.js';
import type { AdviceStates } from './states.js';
import { ratedWatts, resistorsBetween } from './values-to-buy.js';

/** Below this a reservoir neither sparks nor harms a module that is plugged in (common practice), V. */
const SAFE_VOLTS = 1;
/** As long as a person waits before the hand goes in (common practice), s. */
const PATIENCE_SECONDS = 120;
const WANTED_SECONDS = 60;

/** How long a reservoir stays charged when its rails draw nothing. */
export function dischargeProblems(reservoir: string, { design, highestPeak }: AdviceStates): Problem[] {
  const { bleed } = reservoirNamed(reservoir, design);
  const farads = bledFarads(reservoir, design);
  const seconds = secondsWith(bleed ?? Infinity, farads, highestPeak);
  if (seconds <= PATIENCE_SECONDS) return [];
  const stays = Number.isFinite(seconds)
    ? `takes ${seconds.toFixed(0)} s to fall below ${SAFE_VOLTS} V through its bleed resistor`
    : 'keeps its charge for hours: it has no bleed resistor';
  const most = WANTED_SECONDS / (farads * Math.log(highestPeak / SAFE_VOLTS));
  const negative = reservoir !== 'reservoir' && design.negative_reservoir !== undefined;
  const key = `${negative ? 'negative_reservoir' : 'reservoir'}.bleed`;
  return [
    {
      finding: bleed === undefined ? 'bleed-missing' : 'bleed-slow',
      about: reservoir,
      severity: 'note',
      sentence: `Switched off with nothing drawn, the ${reservoir.replace('-', ' ')} ${stays}.`,
      numbers: {
        from_V: highestPeak,
        safe_V: SAFE_VOLTS,
        ...(Number.isFinite(seconds) && { safe_after_s: seconds }),
      },
      reason: 't = R C ln(peak / safe volts); discharge of a capacitor, textbook',
      ways: [
        resistorsBetween(most / 3, most).map((ohms) => ({
          words: `put ${ohms} ohm, ${ratedWatts(highestPeak ** 2 / ohms)} W across it`,
          changes: [{ key, value: ohms }],
        })),
      ],
      otherwise: 'Put a bleed resistor across it.',
      besides: 'Measure it before you touch anything.',
    },
  ];
}

function secondsWith(bleed: number, capacitance: number, fromVolts: number): number {
  return secondsToSafe({
    capacitance,
    fromVolts,
    safeVolts: SAFE_VOLTS,
    loadCurrent: 0,
    loadResistance: Infinity,
    bleedResistance: bleed,
  });
}

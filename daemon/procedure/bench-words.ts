import type { Design } from '../design/design.js';
import { diodeOf } from '../design/own-parts.js';
import { windingOf } from '../design/parts/transformers.js';
import { unloadedPeak } from '../design/raw-peak.js';
import { bledFarads, reservoirNamed } from '../predict/described-parts.js';
import { mainsVolts } from '../predict/mains.js';
import { secondsToSafe } from '../predict/rectifier/switch-off.js';
import type { Action } from './step.js';

/** Below this a reservoir neither sparks nor harms a module that is plugged in (common practice), V. */
export const SAFE_VOLTS = 1;

/** What comes last. */
export const MODULES = 'Every module that the supply will feed';

/** One hand, clips before power, no reaching over: common practice of work on live supplies. */
export const ONE_HAND =
  'Clip probes on before power and keep one hand in your pocket. The primary side is live: stay clear of it.';

/** How the supply is made dead before a hand goes in. */
export function isolate(design: Design): Action {
  return {
    words: `Switch off, pull the plug, ${emptyWords(design)}.`,
    caution:
      'A switch alone is no isolation. Measure across each reservoir first: under 1 V you may touch it, else wait.',
  };
}

/** `wait 90 s for the reservoir to empty`, or how to empty one that has no bleed resistor. */
export function emptyWords(design: Design): string {
  const seconds = secondsToEmpty(design);
  return Number.isFinite(seconds)
    ? `wait ${roundedUp(seconds)} s for the bleed resistor to empty the reservoir`
    : 'empty the reservoir through a resistor of about 1 kΩ, 5 W (it has no bleed resistor; never use a screwdriver)';
}

/** Until the slowest reservoir, at the top of its tolerance and charged on the highest mains, is below 1 V; s. */
export function secondsToEmpty(design: Design): number {
  const { rectifier, transformer, mains } = design;
  const law = diodeOf(design)?.law;
  if (law === undefined) return Infinity;
  const winding = windingOf(transformer, rectifier.kind);
  const share = mainsVolts(mains).high / mains.volts;
  const fromVolts = unloadedPeak(winding, { kind: rectifier.kind, law }, share);
  const names = rectifier.kind === 'split-bridge' ? ['reservoir', 'negative-reservoir'] : ['reservoir'];
  return Math.max(
    ...names.map((name) => {
      const { tolerance_percent, bleed = Infinity } = reservoirNamed(name, design);
      return secondsToSafe({
        capacitance: bledFarads(name, design) * (1 + tolerance_percent / 100),
        fromVolts,
        safeVolts: SAFE_VOLTS,
        loadCurrent: 0,
        loadResistance: Infinity,
        bleedResistance: bleed,
      });
    }),
  );
}

function roundedUp(seconds: number): number {
  return Math.max(5, Math.ceil(seconds / 5) * 5);
}

/** `a, b and c`. */
export function listWords(words: readonly string[]): string {
  return words.length < 2 ? (words[0] ?? '') : `${words.slice(0, -1).join(', ')} and ${words.at(-1) ?? ''}`;
}

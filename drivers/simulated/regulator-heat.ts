import { coldState, heatFor } from './heat.js';
import type { HeatState } from './heat.js';
import type { SupplyParts } from './supply-parts.js';

/**
 * A regulator whose junction stays above this for {@link FAILS_SHORT_AFTER_SECONDS} fails short. Real parts shut
 * down at 150-175 degrees C first; this one stands for the one whose own protection is worn out, which is what
 * ends the module behind it.
 */
export const FAILS_SHORT_AT = 175;
export const FAILS_SHORT_AFTER_SECONDS = 10;

/** How fast the air inside follows the power switch, s (common practice: some ten minutes). */
const ENCLOSURE_SECONDS = 600;

/** The temperatures inside the enclosure: the air, and each rail's regulator in it. */
export interface EnclosureHeat {
  readonly airInside: number;
  of(rail: string): HeatState;
  /** Each rail's junction, degrees C. */
  junctions(): ReadonlyMap<string, number>;
  /** Lets `seconds` pass; `watts` are each regulator's. Returns the rails that have now failed from heat. */
  step(parts: SupplyParts, watts: ReadonlyMap<string, number>, powered: boolean, seconds: number): string[];
}

/** Starts with everything as cold as the air around. */
export function coldEnclosure(ambient: number, rails: Iterable<string>): EnclosureHeat {
  const states = new Map([...rails].map((rail) => [rail, coldState(ambient)] as const));
  const overheatedSeconds = new Map<string, number>();
  let airInside = ambient;

  function hasFailed(rail: string, junction: number, seconds: number): boolean {
    const total = junction > FAILS_SHORT_AT ? (overheatedSeconds.get(rail) ?? 0) + seconds : 0;
    const failed = total >= FAILS_SHORT_AFTER_SECONDS;
    overheatedSeconds.set(rail, failed ? 0 : total);
    return failed;
  }

  return {
    get airInside() {
      return airInside;
    },
    of: (rail) => states.get(rail) ?? coldState(airInside),
    junctions: () => new Map([...states].map(([rail, state]) => [rail, state.junction] as const)),
    step(parts, watts, powered, seconds) {
      const target = parts.ambient + (powered ? parts.enclosureRise : 0);
      airInside -= (target - airInside) * Math.expm1(-seconds / ENCLOSURE_SECONDS);
      const failed: string[] = [];
      for (const [rail, state] of states) {
        const cooling = parts.rails.get(rail)?.cooling;
        if (!cooling) continue;
        const next = heatFor(state, cooling, { watts: watts.get(rail) ?? 0, air: airInside }, seconds);
        states.set(rail, next);
        if (hasFailed(rail, next.junction, seconds)) failed.push(rail);
      }
      return failed;
    },
  };
}

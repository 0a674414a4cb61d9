import type { PointPrediction, PointUnit, Prediction } from '../../predict/prediction.js';

const DRIVEN_UNITS: readonly PointUnit[] = ['V', 'Vrms', 'Vpp', 'A', 'Arms', 'W'];
/** A 230 V winding on 115 V still gives half, so this low means off. */
const OFF_SHARE = 0.25;

/** Follows whether the supply is on, by the first sign of volts: what it drives reads a quarter of what it should. */
export class SupplyOn {
  readonly #prediction: Prediction;
  readonly #on = new Map<string, boolean>();
  #firstOnAtMs: number | null = null;

  constructor(prediction: Prediction) {
    this.#prediction = prediction;
  }

  /** When the first volts were seen; null when never. */
  get firstOnAtMs(): number | null {
    return this.#firstOnAtMs;
  }

  /** Whether it is on now. Where nothing tells, it counts as on. */
  get isOn(): boolean {
    return this.#on.size === 0 || [...this.#on.values()].includes(true);
  }

  take(point: string, atMs: number, value: number): void {
    const least = leastMagnitude(this.#prediction.points[point]);
    if (least === 0) return;
    const isOn = Math.abs(value) >= OFF_SHARE * least;
    this.#on.set(point, isOn);
    if (isOn) this.#firstOnAtMs ??= atMs;
  }
}

/** The smallest magnitude in the band; 0 when the band says nothing about on and off. */
function leastMagnitude(prediction: PointPrediction | undefined): number {
  if (prediction === undefined || !DRIVEN_UNITS.includes(prediction.unit)) return 0;
  const { low, high } = prediction;
  return low * high <= 0 ? 0 : Math.min(Math.abs(low), Math.abs(high));
}

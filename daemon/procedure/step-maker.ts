import type { Design, LoadState } from '../design/design.js';
import { testPointsOf } from '../design/test-points.js';
import { describeDesign } from '../predict/engine/description.js';
import { supplyModel } from '../predict/engine/model.js';
import type { SupplyDescription } from '../predict/engine/supply.js';
import type { PointUnit } from '../predict/prediction.js';
import { pointMeaning } from '../predict/points.js';
import type { FilamentLamp } from '../predict/rectifier/lamp-limiter.js';
import { stateAt } from '../predict/supply-state.js';
import { bandsOf, withUnconnected } from './bands.js';
import type { Draft } from './first-steps.js';
import { limiterOf } from './lamp.js';
import { outletsOf, type Outlet } from './outlets.js';
import { describeStage, type Hung, type Limiter, type Stage } from './stage.js';
import type { Band, Check, Step, StepPoint } from './step.js';

export interface ProcedureOptions {
  /** What the real loads draw in the last steps. */
  readonly load: LoadState;
  /** In series with the primary until the dummy loads come; null for none. */
  readonly lamp: FilamentLamp | null;
  /** The bench has an output that removes power, armed. */
  readonly hasCutOff: boolean;
  /** Whether an instrument of the bench can be put on a test point. */
  readonly canMeasure: (point: string) => boolean;
  /** Default 0. */
  readonly seed?: number;
}

/** A stage as the step has it; the step's feeding says whether the lamp is in. */
export type Connected = Omit<Stage, 'limiter'>;

/** Makes steps of their words and what each stage of the supply predicts. */
export class StepMaker {
  readonly design: Design;
  readonly options: ProcedureOptions;
  readonly supply: SupplyDescription;
  readonly outlets: readonly Outlet[];
  readonly #units: Readonly<Record<string, PointUnit>>;

  constructor(design: Design, options: ProcedureOptions) {
    this.design = design;
    this.options = options;
    this.supply = describeDesign(design);
    const model = supplyModel(this.supply, 'full');
    this.#units = Object.fromEntries(model.outputs.map((id, at) => [id, model.units[at]!]));
    this.outlets = outletsOf(design, this.supply, stateAt(model, {}));
  }

  /** The ids of the design's test points that match. */
  points(pattern: RegExp): string[] {
    return testPointsOf(this.design).filter((id) => pattern.test(id));
  }

  hang(on: (outlet: Outlet) => Hung): Record<string, Hung> {
    return Object.fromEntries(this.outlets.map((outlet) => [outlet.name, on(outlet)]));
  }

  limiter(stage: Connected): Limiter | null {
    const { lamp } = this.options;
    return lamp === null ? null : limiterOf(this.supply, stage, lamp);
  }

  /** A step in which nothing is predicted. */
  bare(draft: Draft): Step {
    return { ...draft, points: [], bands: {} };
  }

  /** Volts that no instrument reads become checks; what else none reads is left out. */
  powered(draft: Draft, stage: Connected, points: readonly string[]): Step {
    const { seed = 0, canMeasure } = this.options;
    const limiter = draft.feeding === 'behind-lamp' ? this.limiter(stage) : null;
    const connected = bandsOf(describeStage(this.supply, { ...stage, limiter }), draft.load, seed);
    const bands = withUnconnected(connected, testPointsOf(this.design));
    const asked = points.flatMap((id) => {
      const band = bands[id];
      return band === undefined ? [] : [{ id, band }];
    });
    const typed = asked.filter(({ id }) => id.endsWith('.volts') && !canMeasure(id));
    return {
      ...draft,
      bands,
      points: asked.filter(({ id }) => canMeasure(id)).map(({ id }) => this.#point(id)),
      checks: [...draft.checks, ...typed.map(({ id, band }) => typedCheck(id, band))],
    };
  }

  #point(id: string): StepPoint {
    const label = this.design.points[id]?.label ?? pointMeaning(id, this.design).label;
    return { point: id, label, unit: this.#units[id] ?? 'V' };
  }
}

/** For volts that no instrument of the bench reads: some other meter does. */
function typedCheck(point: string, { low, high }: Band): Check {
  return {
    id: point,
    ask: `DC volts at ${point}, by any meter?`,
    caution: null,
    number: { unit: 'V', low, high },
    waiver: null,
    vital: false,
    reason: 'what the design gives in this state; no instrument of the bench reads it',
    whenWrong: 'Check the meter and where it is clipped, then what this step says.',
  };
}

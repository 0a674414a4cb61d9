import type { Design, LoadState } from '../design/design.js';
import { testPointsOf } from '../design/test-points.js';
import { describeDesign } from '../predict/engine/description.js';
import { supplyModel } from '../predict/engine/model.js';
import type { SupplyDescription } from '../predict/engine/supply.js';
import { pointUnits } from './point-units.js';
import { pointMeaning } from '../predict/points.js';
import type { FilamentLamp } from '../predict/rectifier/lamp-limiter.js';
import { stateAt } from '../predict/supply-state.js';
import { bandsOf, withUnconnected } from './bands.js';
import { emptyWords, isolate } from './bench-words.js';
import { coldChecks } from './cold-checks.js';
import { coldStep, cutOffStep, lampStep, transformerStep, type Draft } from './first-steps.js';
import { limiterOf, unloadedSecondary } from './lamp.js';
import { dummyStep, lidStep, rawStep, railsStep, realStep, signStep, soakStep } from './later-steps.js';
import { outletsOf, type Outlet } from './outlets.js';
import { describeStage, type Hung, type Stage } from './stage.js';
import type { Band, Check, Procedure, Step, StepPoint } from './step.js';

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

/**
 * The power-up of a design, step by step, with what every test point reads in each state of it.
 * @throws {SupplyError} as the model does; {RangeError} for a design that wasn't checked on loading.
 */
export function procedureOf(design: Design, options: ProcedureOptions): Procedure {
  return {
    steps: stepsOf(design, options),
    afterAbort: [
      'Switch off at the mains and pull the plug.',
      `Do not touch anything yet: ${emptyWords(design)}.`,
      'Measure across each reservoir; under 1 V you may touch it. Heatsinks stay hot for minutes.',
      'Take the modules off before you look for the fault.',
    ],
  };
}

/** The steps alone. Throws as `procedureOf` does. */
export function stepsOf(design: Design, options: ProcedureOptions): Step[] {
  return new StepMaker(design, options).steps();
}

class StepMaker {
  readonly #design: Design;
  readonly #options: ProcedureOptions;
  readonly #supply: SupplyDescription;
  readonly #outlets: readonly Outlet[];
  readonly #units: ReturnType<typeof pointUnits>;

  constructor(design: Design, options: ProcedureOptions) {
    this.#design = design;
    this.#options = options;
    this.#supply = describeDesign(design);
    const model = supplyModel(this.#supply, 'full');
    this.#units = pointUnits(model);
    this.#outlets = outletsOf(design, this.#supply, stateAt(model, {}));
  }

  steps(): Step[] {
    const steps = [...this.#unpowered(), ...this.#unloaded(), ...this.#loaded(), this.#bare(signStep())];
    return withoutLampFrom(steps, this.#options.lamp, this.#design);
  }

  #unpowered(): Step[] {
    const { lamp, hasCutOff } = this.#options;
    const limiter = lamp === null ? null : limiterOf(this.#supply, RAW, lamp);
    const volts = unloadedSecondary(this.#supply, limiter);
    return [
      this.#bare(coldStep(coldChecks(this.#design, this.#outlets), this.#design)),
      ...(lamp === null ? [] : [this.#bare(lampStep(lamp, this.#design))]),
      this.#bare(transformerStep(this.#design, volts, lamp !== null)),
      ...(hasCutOff ? [this.#bare(cutOffStep(lamp !== null))] : []),
    ];
  }

  #unloaded(): Step[] {
    const behindLamp = this.#options.lamp !== null;
    const minimum = this.#hang(({ minimum: load }) => load ?? 'nothing');
    const reservoirs = this.#points(/^(negative-)?reservoir\.(volts|ripple)$/);
    return [
      this.#powered(rawStep(this.#design, behindLamp), RAW, reservoirs),
      this.#powered(
        railsStep(this.#design, this.#outlets, behindLamp),
        { regulators: true, hung: minimum, lid: 'open' },
        this.#points(/\.volts$/),
      ),
    ];
  }

  #loaded(): Step[] {
    const { load } = this.#options;
    const drawing = this.#outlets.filter(({ dummy }) => dummy !== null);
    const cases = this.#points(/\.case$/);
    const volts = this.#points(/\.volts$/);
    const ripple = this.#points(/^(negative-)?reservoir\.ripple$/);
    const soaked = this.#powered(
      soakStep(this.#design, cases, cases.some(this.#options.canMeasure)),
      this.#dummies(),
      [...cases, ...this.#railVolts()],
    );
    const dummies =
      drawing.length === 0
        ? []
        : [this.#powered(dummyStep(this.#design, drawing), this.#dummies(), [...volts, ...ripple])];
    const real = drawing.map((outlet, at) =>
      this.#powered(
        realStep(this.#design, outlet, drawing.slice(at + 1), load),
        this.#realUpTo(drawing.slice(0, at + 1), 'open'),
        this.#points(new RegExp(`^${outlet.name}\\.volts$`)),
      ),
    );
    const lid =
      this.#design.mains.enclosure_rise === 0
        ? []
        : [
            this.#powered(lidStep(this.#design, load), this.#realUpTo(drawing, 'closed'), [
              ...cases,
              ...this.#railVolts(),
            ]),
          ];
    return [...dummies, soaked, ...real, ...lid];
  }

  #hang(on: (outlet: Outlet) => Hung): Record<string, Hung> {
    return Object.fromEntries(this.#outlets.map((outlet) => [outlet.name, on(outlet)]));
  }

  #dummies(): Omit<Stage, 'limiter'> {
    return { regulators: true, hung: this.#hang(({ dummy }) => dummy ?? 'nothing'), lid: 'open' };
  }

  /** The others keep their dummy loads until it is their turn. */
  #realUpTo(real: readonly Outlet[], lid: Stage['lid']): Omit<Stage, 'limiter'> {
    const hung = this.#hang((outlet) => (real.includes(outlet) ? 'real' : (outlet.dummy ?? 'nothing')));
    return { regulators: true, hung, lid };
  }

  #points(pattern: RegExp): string[] {
    return testPointsOf(this.#design).filter((id) => pattern.test(id));
  }

  #railVolts(): string[] {
    return Object.keys(this.#design.rails).map((name) => `${name}.volts`);
  }

  #bare(draft: Draft): Step {
    return { ...draft, points: [], bands: {} };
  }

  #powered(draft: Draft, stage: Omit<Stage, 'limiter'>, points: readonly string[]): Step {
    const { lamp, seed = 0, canMeasure } = this.#options;
    const limiter =
      lamp !== null && draft.feeding === 'behind-lamp' ? limiterOf(this.#supply, stage, lamp) : null;
    const connected = bandsOf(describeStage(this.#supply, { ...stage, limiter }), draft.load, seed);
    const bands = withUnconnected(connected, testPointsOf(this.#design));
    const asked = points.filter((id) => Object.hasOwn(bands, id));
    return {
      ...draft,
      bands,
      points: asked.filter(canMeasure).map((id) => this.#point(id)),
      checks: [
        ...draft.checks,
        ...asked
          .filter((id) => id.endsWith('.volts') && !canMeasure(id))
          .map((id) => typedCheck(id, bands[id]!)),
      ],
    };
  }

  #point(id: string): StepPoint {
    const label = this.#design.points[id]?.label ?? pointMeaning(id, this.#design).label;
    return { point: id, label, unit: this.#units[id] ?? 'V' };
  }
}

const RAW: Omit<Stage, 'limiter'> = { regulators: false, hung: {}, lid: 'open' };

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

/** The first step on the bare mains begins with taking the lamp out. */
function withoutLampFrom(steps: readonly Step[], lamp: FilamentLamp | null, design: Design): Step[] {
  const first = steps.findIndex(({ feeding }) => feeding === 'mains');
  return steps.map((step, at) => {
    if (lamp === null || at !== first) return step;
    const out = {
      words: 'Take the lamp limiter out: from here on only the fuse limits what a fault draws.',
      caution: 'Plug out while you do: the holder is at mains volts.',
    };
    const rest = step.actions.filter(({ words }) => words !== isolate(design).words);
    return { ...step, fromDead: true, actions: [isolate(design), out, ...rest] };
  });
}

import type { Design } from '../design/design.js';
import { emptyWords, isolate } from './bench-words.js';
import { coldChecks } from './cold-checks.js';
import { coldStep, cutOffStep, lampStep, transformerStep } from './first-steps.js';
import { unloadedSecondary } from './lamp.js';
import { dummyStep, lidStep, realStep, signStep, soakStep } from './loaded-steps.js';
import type { Outlet } from './outlets.js';
import type { Procedure, Step } from './step.js';
import { StepMaker, type Connected, type ProcedureOptions } from './step-maker.js';
import { railsStep, rawStep } from './unloaded-steps.js';

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
  const maker = new StepMaker(design, options);
  const steps = [...unpowered(maker), ...unloaded(maker), ...loaded(maker), maker.bare(signStep())];
  return options.lamp === null ? steps : withoutLampFrom(steps, design);
}

const RAW: Connected = { regulators: false, hung: {}, lid: 'open' };

function unpowered(maker: StepMaker): Step[] {
  const { design, outlets } = maker;
  const { lamp, hasCutOff } = maker.options;
  const volts = unloadedSecondary(maker.supply, maker.limiter(RAW));
  return [
    coldStep(coldChecks(design, outlets), design),
    ...(lamp === null ? [] : [lampStep(lamp, design)]),
    transformerStep(design, volts, lamp !== null),
    ...(hasCutOff ? [cutOffStep(lamp !== null)] : []),
  ].map((draft) => maker.bare(draft));
}

function unloaded(maker: StepMaker): Step[] {
  const { design, outlets } = maker;
  const behindLamp = maker.options.lamp !== null;
  const hung = maker.hang(({ minimum }) => minimum ?? 'nothing');
  return [
    maker.powered(rawStep(design, behindLamp), RAW, maker.points(/^(negative-)?reservoir\.(volts|ripple)$/)),
    maker.powered(
      railsStep(design, outlets, behindLamp),
      { regulators: true, hung, lid: 'open' },
      maker.points(/\.volts$/),
    ),
  ];
}

/** With no load at all in the design there is nothing to stand in for, and nothing to connect. */
function loaded(maker: StepMaker): Step[] {
  const { design, outlets } = maker;
  const { load, canMeasure } = maker.options;
  const drawing = outlets.filter(({ dummy }) => dummy !== null);
  const cases = maker.points(/\.case$/);
  const warm = [...cases, ...Object.keys(design.rails).map((name) => `${name}.volts`)];
  const cold = [...maker.points(/\.volts$/), ...maker.points(/^(negative-)?reservoir\.ripple$/)];
  const dummies = realUpTo([], maker, 'open');
  const real = drawing.map((outlet, at) =>
    maker.powered(
      realStep(design, outlet, drawing.slice(at + 1), load),
      realUpTo(drawing.slice(0, at + 1), maker, 'open'),
      [`${outlet.name}.volts`],
    ),
  );
  const closed = realUpTo(drawing, maker, 'closed');
  return [
    ...(drawing.length === 0 ? [] : [maker.powered(dummyStep(design, drawing), dummies, cold)]),
    maker.powered(soakStep(cases, cases.some(canMeasure)), dummies, warm),
    ...real,
    ...(design.mains.enclosure_rise === 0 ? [] : [maker.powered(lidStep(design, load), closed, warm)]),
  ];
}

/** The others keep their dummy loads until it is their turn. */
function realUpTo(real: readonly Outlet[], maker: StepMaker, lid: Connected['lid']): Connected {
  const hung = maker.hang((outlet) => (real.includes(outlet) ? 'real' : (outlet.dummy ?? 'nothing')));
  return { regulators: true, hung, lid };
}

/** The first step on the bare mains begins with taking the lamp out. */
function withoutLampFrom(steps: readonly Step[], design: Design): Step[] {
  const first = steps.findIndex(({ feeding }) => feeding === 'mains');
  const off = isolate(design);
  const out = {
    words: 'Take the lamp limiter out: from here on only the fuse limits what a fault draws.',
    caution: 'Plug out while you do: the holder is at mains volts.',
  };
  return steps.map((step, at) => {
    if (at !== first) return step;
    const rest = step.actions.filter(({ words }) => words !== off.words);
    return { ...step, fromDead: true, actions: [off, out, ...rest] };
  });
}

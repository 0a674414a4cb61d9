import type { PartFigures } from '../prediction.js';
import { solveLampLimited } from '../rectifier/lamp-limiter.js';
import { secondsToSafe } from '../rectifier/switch-off.js';
import { solveSwitchOn } from '../rectifier/switch-on.js';
import { currentLimit } from '../regulator/current-limit.js';
import { checkMinimumLoad } from '../regulator/minimum-load.js';
import { turnOnSeconds } from '../follower/turn-on.js';
import { timeConstantsOf } from './curve.js';
import { cooledParts } from './heat-path.js';
import type { CooledPart } from './heat-path.js';
import type { SupplyModel } from './model.js';
import type { RailModel } from './rail-model.js';
import type { ReservoirModel } from './reservoir-model.js';
import type { ReservoirDescription } from './supply.js';

/** Below this a reservoir neither sparks nor harms a module that is plugged in (common practice), V. */
const SAFE_VOLTS = 1;
/** A lamp for the limiter that hobbyists have at hand, W at the mains volts (common practice). */
const LAMP_WATTS = 60;

/**
 * Figures of every part with every number as written, the unit in each key; what has no finite value (a discharge
 * that never ends) is left out. Heat and power add up: `transformer.input_W` is what all the loads and losses take.
 * @throws {SupplyError} as `SupplyModel.solve` does, {RectifierError} when switch-on or lamp limiter can't be followed.
 */
export function partFigures(model: SupplyModel): Record<string, PartFigures> {
  model.solve(model.typicalDraw());
  const { reservoir, negativeReservoir, description } = model;
  const cooled = cooledParts(model);
  const heat = new Map(cooled.map((part) => [part.name, heatFigures(part, cooled, model)]));
  const figures: Record<string, PartFigures> = {
    transformer: transformerFigures(model),
    rectifier: rectifierFigures(reservoir),
    reservoir: { ...reservoirFigures(reservoir, description.reservoir, model) },
  };
  if (negativeReservoir !== null && description.negativeReservoir !== undefined) {
    figures['negative-reservoir'] = {
      ...rectifierFigures(negativeReservoir),
      ...reservoirFigures(negativeReservoir, description.negativeReservoir, model),
    };
  }
  if (model.filter !== null) figures['filter'] = { ...filterFigures(model), ...heat.get('filter') };
  for (const rail of model.rails) {
    const { name } = rail.description;
    figures[name] = { ...railFigures(rail), ...heat.get(name) };
  }
  for (const [name, temperature] of model.sinkTemperatures) figures[name] = { heatsink_degC: temperature };
  return Object.fromEntries(Object.entries(figures).map(([part, numbers]) => [part, finiteOnly(numbers)]));
}

function transformerFigures(model: SupplyModel): PartFigures {
  const { transformer } = model.description;
  const nodes = nodesOf(model);
  const { emfPeak, seriesResistance } = model.reservoir.circuit;
  return {
    no_load_Vrms: emfPeak / Math.SQRT2,
    winding_ohm: seriesResistance,
    winding_rms_A: model.windingAmps(),
    rated_A: transformer.ratedAmps,
    dissipation_W: sum(nodes.map((node) => node.solved('seriesDissipation'))),
    input_W: sum(nodes.map((node) => node.solved('inputPower'))),
  };
}

function rectifierFigures(node: ReservoirModel): PartFigures {
  return {
    conduction_deg: node.solved('conductionAngleDegrees'),
    peak_current_A: node.solved('rectifiedPeakCurrent'),
    diode_mean_A: node.solved('diodeMeanCurrent'),
    diode_rms_A: node.solved('diodeRmsCurrent'),
    diode_dissipation_W: node.solved('diodeDissipation'),
    dissipation_W: node.solved('allDiodesDissipation'),
  };
}

function reservoirFigures(node: ReservoirModel, part: ReservoirDescription, model: SupplyModel): PartFigures {
  const load = part.load[model.load];
  const loadWatts = node.mean * load.amps.typical + meanSquare(node) / load.ohms;
  return {
    mean_V: node.mean,
    valley_V: node.valley,
    peak_V: node.peak,
    ripple_Vpp: node.solved('ripplePeakToPeak'),
    ripple_Vrms: node.solved('rippleRms'),
    ripple_at_mains_V: node.solved('rippleAtMains'),
    ripple_at_twice_mains_V: node.solved('rippleAtTwiceMains'),
    drawn_A: node.solved('loadMeanCurrent'),
    capacitor_ripple_A: node.solved('capacitorRmsCurrent'),
    capacitor_dissipation_W: node.solved('capacitorDissipation'),
    bleed_W: meanSquare(node) / part.bleedOhms,
    load_W: loadWatts,
    ...switchingFigures(node, part, model),
  };
}

/** What happens when the switch is thrown and when it is opened again. */
function switchingFigures(
  node: ReservoirModel,
  part: ReservoirDescription,
  { description, reservoir }: SupplyModel,
): PartFigures {
  const circuit = node.unfiltered();
  const on = solveSwitchOn(circuit);
  // A filter's capacitor flows back through the filter's resistor.
  const behind = node === reservoir ? (description.filter?.capacitance.typical ?? 0) : 0;
  const volts = description.mains.volts.typical;
  const lamp = { ratedWatts: LAMP_WATTS, ratedVolts: description.mains.ratedVolts };
  const limited = solveLampLimited({ ...circuit, loadCurrent: 0 }, lamp, volts);
  const empty = {
    capacitance: circuit.capacitance + behind,
    fromVolts: node.peak,
    safeVolts: SAFE_VOLTS,
    loadCurrent: 0,
  };
  // Regulators let go as the volts fall, and what they feed draws less and less: taken as a resistance.
  const drawn = node.solved('loadMeanCurrent');
  return {
    inrush_peak_A: on.inrushPeakCurrent,
    charge_time_s: on.secondsTo90Percent,
    safe_after_s: secondsToSafe({ ...empty, loadResistance: node.mean / drawn, bleedResistance: Infinity }),
    safe_after_with_bleed_s: secondsToSafe({
      ...empty,
      loadResistance: Infinity,
      bleedResistance: part.bleedOhms,
    }),
    lamp_inrush_peak_A: limited.switchOnCold.inrushPeakCurrent,
    lamp_unloaded_V: limited.steady.meanVolts,
    lamp_W: limited.lampWatts,
  };
}

function filterFigures({ filter, reservoir }: SupplyModel): PartFigures {
  if (filter === null) return {};
  const drawn = filter.inputAmps + filter.inputSiemens * reservoir.mean;
  return {
    mean_V: filter.mean,
    valley_V: filter.valley,
    ripple_Vpp: filter.ripple,
    drop_V: reservoir.mean - filter.mean,
    headroom_V: filter.headroom,
    input_A: drawn,
    load_W: filter.mean * filter.loadAmps,
    dissipation_W: filter.watts,
    time_constant_s: filter.timeConstant,
    turn_on_s: turnOnSeconds(filter.timeConstant, 0.95),
  };
}

function railFigures(rail: RailModel): PartFigures {
  const {
    regulator,
    description,
    regulator: { law },
  } = rail;
  const { regulator: part, seriesOhms } = description;
  return {
    set_V: law.setVolts,
    mean_V: rail.mean,
    valley_V: rail.valley,
    ripple_Vpp: rail.ripple,
    input_V: rail.inputMean,
    dropout_V: law.dropoutVolts,
    headroom_V: rail.headroom,
    rejection_dB: -20 * Math.log10(law.feedthrough),
    input_A: rail.inputAmps,
    output_A: rail.outputAmps,
    dissipation_W: rail.watts,
    loss_W: rail.loss,
    series_W: seriesOhms * rail.inputAmps ** 2,
    load_W: rail.mean * rail.loadAmps,
    divider_W: rail.mean * regulator.dividerAmps,
    if_regulator_passes_input_V: rail.input.peak,
    ...('minimumLoadAmps' in part && minimumLoadFigures(rail, part.minimumLoadAmps)),
    ...('currentLimit' in part && {
      current_limit_A: currentLimit(part.currentLimit, rail.inputMean - rail.mean),
    }),
  };
}

function minimumLoadFigures(rail: RailModel, minimumAmps: number): PartFigures {
  const drawn = checkMinimumLoad(minimumAmps, rail.mean, rail.outputAmps);
  return {
    minimum_load_A: minimumAmps,
    minimum_load_short_A: drawn.shortfallAmps,
    minimum_load_ohm: drawn.bleedOhms,
  };
}

function heatFigures(part: CooledPart, parts: readonly CooledPart[], model: SupplyModel): PartFigures {
  const [slowest = NaN] = timeConstantsOf(part, parts, model);
  return {
    case_degC: part.case,
    junction_degC: part.junction,
    heatsink_degC: part.heatsink,
    heat_time_constant_s: slowest,
  };
}

function nodesOf({ reservoir, negativeReservoir }: SupplyModel): ReservoirModel[] {
  return negativeReservoir === null ? [reservoir] : [reservoir, negativeReservoir];
}

function meanSquare(node: ReservoirModel): number {
  return node.mean ** 2 + node.solved('rippleRms') ** 2;
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}

function finiteOnly(figures: PartFigures): PartFigures {
  return Object.fromEntries(Object.entries(figures).filter(([, value]) => Number.isFinite(value)));
}

import type { Design } from '../design/design.js';
import { windingOf } from '../design/parts/transformers.js';
import { supplyModel, type SupplyModel } from '../predict/engine/model.js';
import type { SupplyDescription } from '../predict/engine/supply.js';
import { filamentResistance, type FilamentLamp } from '../predict/rectifier/lamp-limiter.js';
import { describeStage, type Limiter, type Stage } from './stage.js';

/** Filament and halogen lamps that can be had, W (common practice). */
const LAMP_WATTS = [25, 40, 60, 75, 100, 150, 200];

/**
 * A lamp about as strong as the transformer: one that is much weaker starves a healthy supply, one that is much
 * stronger lets a short draw what burns (common practice).
 */
export function suggestedLamp(design: Design): FilamentLamp {
  const va = ratedVa(design);
  const ratedWatts = LAMP_WATTS.find((watts) => watts >= va) ?? LAMP_WATTS.at(-1)!;
  return { ratedWatts, ratedVolts: design.mains.volts };
}

/** VA of all windings together. */
export function ratedVa({ transformer, rectifier }: Design): number {
  const { ratedVolts, ratedAmps } = windingOf(transformer, rectifier.kind);
  const halves = rectifier.kind === 'centre-tap' || rectifier.kind === 'split-bridge' ? 2 : 1;
  return halves * ratedVolts * ratedAmps;
}

/** Magnetising current of small mains transformers, as a share of the rated primary current (from memory). */
const MAGNETISING = { typical: 0.15, high: 0.35 };
/** A filament's ohms between its tenth and its fifteenth when cold, and its print: so much either way (from memory). */
const FILAMENT_DOUBT = 0.35;
/** Even a lamp that is far too small leaves something. */
const MOST_DROP = 0.9;
const MOST_ROUNDS = 60;

/**
 * What a lamp does to one stage of the supply. The filament settles where its ohms and its power agree, with the
 * supply's own current and a typical magnetising current through it; the two are a quarter cycle apart, so their
 * squares add. The magnetising current takes nearly nothing from the volts that way, and all of its drop if it were
 * in phase, which is the worst.
 */
export function limiterOf(
  supply: SupplyDescription,
  stage: Omit<Stage, 'limiter'>,
  lamp: FilamentLamp,
): Limiter {
  const volts = supply.mains.volts.typical;
  const rated = ratedPrimaryAmps(supply);
  const magnetising = MAGNETISING.typical * rated;
  const ohms = settledOhms(lamp, (tried) => {
    const limiter = { ohms: around(tried), leaves: { low: 1, typical: 1 } };
    const model = supplyModel(describeStage(supply, { ...stage, limiter }), 'full');
    return Math.hypot(primaryAmps(model), magnetising);
  });
  const drop = (amps: number): number => Math.min(MOST_DROP, (ohms * amps) / volts);
  const lagging = drop(magnetising);
  const worst = drop(MAGNETISING.high * rated);
  const typical = Math.sqrt(1 - lagging ** 2);
  return { ohms: around(ohms), leaves: { low: Math.min(typical, 1 - worst), typical } };
}

function around(ohms: number): Limiter['ohms'] {
  return {
    name: 'lampOhms',
    low: ohms * (1 - FILAMENT_DOUBT),
    typical: ohms,
    high: ohms * (1 + FILAMENT_DOUBT),
  };
}

/** By bisection on the logarithm, from cold to hot: a filament that takes more than keeps it there warms up. */
function settledOhms(lamp: FilamentLamp, ampsAt: (ohms: number) => number): number {
  let low = Math.log(filamentResistance(lamp, 0));
  let high = Math.log(filamentResistance(lamp, lamp.ratedWatts));
  for (let round = 0; round < MOST_ROUNDS && high - low > 1e-4; round += 1) {
    const middle = (low + high) / 2;
    const ohms = Math.exp(middle);
    if (filamentResistance(lamp, ampsAt(ohms) ** 2 * ohms) > ohms) low = middle;
    else high = middle;
  }
  return Math.exp((low + high) / 2);
}

/** Of the typical supply, without magnetising current; pulses of both polarities pass at once. A RMS. */
function primaryAmps({ reservoir, negativeReservoir, description }: SupplyModel): number {
  const { transformer, mains } = description;
  const turns =
    (transformer.secondaryVolts.typical * (1 + transformer.regulation.typical)) / mains.ratedVolts;
  const positive = reservoir.solved('rectifiedRmsCurrent');
  return turns * (positive + (negativeReservoir?.solved('rectifiedRmsCurrent') ?? 0));
}

function ratedPrimaryAmps({ transformer, mains }: SupplyDescription): number {
  const halves = transformer.windings === 'centre-tapped' ? 2 : 1;
  return (halves * transformer.secondaryVolts.typical * transformer.ratedAmps) / mains.ratedVolts;
}

/** Secondary volts RMS with nothing connected to it, of one half where it has a tap. */
export function unloadedSecondary(
  { transformer, mains }: SupplyDescription,
  limiter: Limiter | null,
): { readonly low: number; readonly typical: number; readonly high: number } {
  const { secondaryVolts, regulation } = transformer;
  const leaves = limiter?.leaves ?? { low: 1, typical: 1 };
  const at = (end: 'low' | 'typical' | 'high', share: number): number =>
    (secondaryVolts[end] * (1 + regulation[end]) * mains.volts[end] * share) / mains.ratedVolts;
  return { low: at('low', leaves.low), typical: at('typical', leaves.typical), high: at('high', 1) };
}

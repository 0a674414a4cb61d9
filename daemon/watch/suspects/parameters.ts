import type { Spread } from '../../design/parts/spread.js';
import { conditionals } from './conditional.js';
import type { SizeCloud } from './clouds.js';
import { mixtureQuantile } from './normal-mixture.js';
import type { Posterior } from './posterior.js';
import type { Mark } from './settled.js';

/** A value of the supply that nobody measures, but that the readings tell about. 95 % lie between `low` and `high`. */
export interface ParameterEstimate extends Spread {
  readonly id: ParameterId;
  readonly unit: 'F' | 'V' | 'ohm';
}

export type ParameterId = 'reservoir.farads' | 'mains.volts' | 'transformer.winding-ohms';

interface Parameter {
  readonly id: ParameterId;
  readonly unit: ParameterEstimate['unit'];
  readonly column: (size: SizeCloud) => Float64Array;
}

export const PARAMETERS: readonly Parameter[] = [
  { id: 'reservoir.farads', unit: 'F', column: inputNamed('farads') },
  { id: 'mains.volts', unit: 'V', column: inputNamed('mainsVolts') },
  { id: 'transformer.winding-ohms', unit: 'ohm', column: ({ windingOhms }) => windingOhms },
];

function inputNamed(name: string): (size: SizeCloud) => Float64Array {
  return ({ cloud }) => {
    const column = cloud.inputs[cloud.names.indexOf(name)];
    if (column === undefined) throw new RangeError(`the cloud was drawn without ${name}`);
    return column;
  };
}

/** Less probable components would only cost time. */
const LEAST_PROBABILITY = 1e-4;

/** What the readings say of each parameter, every suspect counted by its probability. */
export function parametersOf(
  { answers }: Posterior,
  marks: readonly Mark[],
  pointCount: number,
): ParameterEstimate[] {
  const kept = answers.filter(({ probability }) => probability >= LEAST_PROBABILITY);
  const places = PARAMETERS.map((_, at) => pointCount + at);
  const found = kept.map(({ component }) => conditionals(component, marks, places));
  return PARAMETERS.map(({ id, unit }, at) => {
    const parts = kept.map(({ probability }, row) => ({ share: probability, ...found[row]![at]! }));
    const low = mixtureQuantile(parts, 0.025);
    return { id, unit, low, typical: mixtureQuantile(parts, 0.5), high: mixtureQuantile(parts, 0.975) };
  });
}

import type { PointUnit } from '../../predict/prediction.js';
import type { SizeCloud } from './clouds.js';

/** A value of the supply that nobody measures, but that the readings tell about. */
export interface Parameter {
  readonly id: string;
  /** F where there is no unit of a test point for it. */
  readonly unit: PointUnit | 'F';
  readonly column: (size: SizeCloud) => Float64Array;
}

export const PARAMETERS: readonly Parameter[] = [
  { id: 'reservoir.farads', unit: 'F', column: inputNamed('farads') },
  { id: 'mains.volts', unit: 'V', column: inputNamed('mainsVolts') },
  { id: 'transformer.winding-ohms', unit: 'ohm', column: ({ windingOhms }) => windingOhms },
];

/** A value that isn't uncertain has no column; it is left at 0 and told by nobody. */
function inputNamed(name: string): (size: SizeCloud) => Float64Array {
  return ({ cloud }) => cloud.inputs[cloud.names.indexOf(name)] ?? new Float64Array(cloud.draws);
}

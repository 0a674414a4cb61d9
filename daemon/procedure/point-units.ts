import type { SupplyModel } from '../predict/engine/model.js';
import type { PointUnit } from '../predict/prediction.js';

/** The unit of every test point of a supply, by its id. */
export function pointUnits({ outputs, units }: SupplyModel): Readonly<Record<string, PointUnit>> {
  return Object.fromEntries(outputs.map((id, at) => [id, units[at]!]));
}

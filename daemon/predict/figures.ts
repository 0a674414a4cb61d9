import { partFigures } from './engine/figures.js';
import type { SupplyModel } from './engine/model.js';
import { dummyLoad } from './first-power.js';
import type { PartFigures } from './prediction.js';

/** Figures of every part with each value typical, and the dummy load of every rail for the soak. */
export function figuresOf(model: SupplyModel): Record<string, PartFigures> {
  const figures = partFigures(model);
  for (const { name, load } of model.description.rails) {
    const rail = figures[name];
    const volts = rail?.['set_V'] ?? 0;
    const dummy = dummyLoad(volts, load.full.amps.typical + volts / load.full.ohms);
    if (rail !== undefined && dummy !== null) {
      figures[name] = { ...rail, dummy_load_ohm: dummy.ohms, dummy_load_W: dummy.ratedWatts };
    }
  }
  return figures;
}

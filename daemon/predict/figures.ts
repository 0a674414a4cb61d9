import type { PartFigures } from './prediction.js';
import type { SupplyFacts } from './supply.js';
import { dummyLoad, switchingFigures } from './first-power.js';
import type { SupplyState } from './work-out.js';

/** Figures of every part with each value typical: what a person would work out on paper. */
export function partFigures(facts: SupplyFacts, state: SupplyState): Record<string, PartFigures> {
  const { winding, design } = facts;
  const { raw, rails } = state;
  const figures: Record<string, PartFigures> = {
    transformer: {
      secondary_Arms: raw.secondaryRms,
      rated_Arms: winding.ratedAmps,
      winding_ohm: winding.ohms,
      noLoad_Vrms: winding.ratedVolts * (1 + winding.regulation),
      dissipation_W: raw.windingWatts,
    },
    rectifier: {
      mean_A: raw.amps,
      pulsePeak_A: raw.pulsePeak,
      conduction_deg: raw.conduction_deg,
      diodeDissipation_W: raw.diodeWatts,
      dissipation_W: raw.allDiodesWatts,
    },
    reservoir: {
      mean_V: raw.mean,
      valley_V: raw.valley,
      peak_V: raw.peak,
      ripple_Vpp: raw.ripple,
      ripple_Vrms: raw.rippleRms,
      rippleAtMains_V: raw.rippleAtMains,
      rippleAtTwiceMains_V: raw.rippleAtTwiceMains,
      ripple_Arms: raw.capacitorRms,
      dissipation_W: raw.capacitorWatts,
      ...switchingFigures(design, state),
    },
  };
  for (const [name, rail] of Object.entries(rails)) {
    const dummy = dummyLoad(rail.setting, design.rails[name]?.load.full ?? 0);
    figures[name] = {
      set_V: rail.setting,
      dropout_V: rail.dropout,
      input_V: rail.input.mean,
      headroom_V: rail.input.valley - rail.setting - rail.dropout,
      output_A: rail.outputAmps,
      dissipation_W: rail.dissipation,
      seriesDissipation_W: rail.seriesWatts,
      case_degC: rail.case,
      junction_degC: rail.junction,
      ifRegulatorPassesInput_V: rail.input.peak,
      ...(dummy !== null && { dummyLoad_ohm: dummy.ohms, dummyLoad_W: dummy.ratedWatts }),
    };
  }
  return figures;
}

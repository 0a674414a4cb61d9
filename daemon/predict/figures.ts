import type { PartFigures } from './prediction.js';
import type { SupplyFacts } from './supply.js';
import type { SupplyState } from './work-out.js';

/** Figures of every part with each value typical: what a person would work out on paper. */
export function partFigures(
  facts: SupplyFacts,
  { raw, reservoirAmps, rails }: SupplyState,
): Record<string, PartFigures> {
  const { winding } = facts;
  const figures: Record<string, PartFigures> = {
    transformer: {
      secondary_Arms: raw.secondaryRms,
      rated_Arms: winding.ratedAmps,
      winding_ohm: winding.ohms,
      noLoad_Vrms: winding.ratedVolts * (1 + winding.regulation),
    },
    rectifier: {
      mean_A: reservoirAmps,
      pulsePeak_A: raw.pulsePeak,
      conduction_deg: (raw.conduction * 180) / Math.PI,
    },
    reservoir: {
      mean_V: raw.mean,
      valley_V: raw.valley,
      peak_V: raw.peak,
      ripple_Vpp: raw.ripple,
      ripple_Arms: rippleAmps(raw.secondaryRms, reservoirAmps),
    },
  };
  for (const [name, rail] of Object.entries(rails)) {
    figures[name] = {
      set_V: rail.setting,
      dropout_V: rail.dropout,
      headroom_V: raw.valley - rail.setting - rail.dropout,
      output_A: rail.outputAmps,
      dissipation_W: rail.dissipation,
      case_degC: rail.case,
      junction_degC: rail.junction,
    };
  }
  return figures;
}

/** RMS of the reservoir capacitor's current, A: what the pulses carry beyond the load's steady current. */
export function rippleAmps(secondaryRms: number, meanAmps: number): number {
  return Math.sqrt(Math.max(0, secondaryRms ** 2 - meanAmps ** 2));
}

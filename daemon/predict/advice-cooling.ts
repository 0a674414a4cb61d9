import { interfaceResistance } from '../design/parts/interfaces.js';
import { packageNamed } from '../design/parts/packages.js';
import type { AdviceStates } from './advice.js';
import { mostHeatsink } from './case-temperature.js';
import type { Advice } from './prediction.js';

const REASON = 'Tj = air + P x (heatsink + interface + junction-case); LM317 datasheet, heatsink equations';

/** A junction beyond its limit at full load: with everything typical it cooks, in the hottest case it comes near. */
export function coolingAdvice(rail: string, { facts, full, fullHot }: AdviceStates): Advice[] {
  const regulator = facts.regulators[rail];
  const cooling = facts.design.rails[rail]?.cooling;
  const typical = full.rails[rail];
  const hottest = fullHot.rails[rail];
  if (!regulator || !cooling || !typical || !hottest) return [];
  const limit = regulator.junctionOperating;
  if (hottest.junction <= limit) return [];
  const cooks = typical.junction > limit;
  const path = {
    junctionCase: packageNamed(cooling.package).junctionCase.typical,
    caseSink: interfaceResistance(cooling.interface, cooling.package).typical,
  };
  const needed = mostHeatsink(hottest.dissipation, fullHot.air, limit, path);
  const bare = cooling.heatsink === 'none';
  const at = cooks ? typical : hottest;
  const air = cooks ? full.air : fullHot.air;
  const where = cooks ? 'at full load' : 'at full load on the highest mains in the hottest air';
  const cools = bare ? `without a heatsink` : `on a ${cooling.heatsink} K/W heatsink`;
  return [
    {
      finding: bare ? 'heatsink-missing' : 'heatsink-small',
      about: rail,
      severity: cooks ? 'destroys' : 'misbehaves',
      sentence:
        `The ${regulator.name} of ${rail} turns ${at.dissipation.toFixed(1)} W into heat ${where}; ${cools} its case ` +
        `settles near ${at.case.toFixed(0)} °C and its junction near ${at.junction.toFixed(0)} °C, above ${limit} °C.`,
      numbers: {
        dissipation_W: at.dissipation,
        air_degC: air,
        case_degC: at.case,
        junction_degC: at.junction,
        limit_degC: limit,
        heatsink_KperW: needed,
      },
      reason: REASON,
      cure: cure(needed),
    },
  ];
}

function cure(needed: number): string {
  if (needed < 0.5) {
    return 'No heatsink of sensible size is enough: lower the raw volts or the current, or share the heat with a resistor or a second regulator.';
  }
  return (
    `Fit a heatsink of at most ${needed.toPrecision(2)} K/W before switching on ` +
    '(highest mains and hottest air counted in), and keep fingers off: hot parts burn.'
  );
}

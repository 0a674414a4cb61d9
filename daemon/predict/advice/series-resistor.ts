import { seriesOhms } from '../../design/design-rail.js';
import type { Candidate, Problem } from './problem.js';
import type { AdviceStates } from './states.js';
import { ratedWatts, resistorsBetween } from './values-to-buy.js';

/** Kept between the valley behind the resistor and what the regulator needs at the lowest mains, V (common practice). */
const SPARE_VOLTS = 0.5;
/** A smaller resistor takes too little heat to be worth its place: share of the largest. */
const LEAST_SHARE = 0.4;

/** Resistors before a regulator that leave it enough volts at the lowest mains, the largest first. */
export function seriesCandidates(rail: string, { design, fullLow, fullHot }: AdviceStates): Candidate[] {
  const written = design.rails[rail];
  const low = fullLow.rails.get(rail);
  const hot = fullHot.rails.get(rail);
  if (
    written === undefined ||
    low === undefined ||
    hot === undefined ||
    typeof written.regulator !== 'string'
  )
    return [];
  const spare = low.inputValley - low.setVolts - low.dropoutVolts - SPARE_VOLTS;
  const most = spare / low.inputAmps + seriesOhms(written);
  return resistorsBetween(LEAST_SHARE * most, most).map((ohms) => {
    const watts = ratedWatts(ohms * hot.inputAmps ** 2);
    return {
      words: `put ${ohms} ohm, ${watts} W before the regulator of ${rail}`,
      changes: [{ key: `rails.${rail}.series`, value: { ohms, watts } }],
    };
  });
}

/** A series resistor whose stated watts are less than twice its heat. */
export function seriesResistorProblems(rail: string, { design, fullHot }: AdviceStates): Problem[] {
  const { series } = design.rails[rail] ?? {};
  const amps = fullHot.rails.get(rail)?.inputAmps ?? 0;
  if (typeof series !== 'object' || series.watts === undefined) return [];
  const heat = series.ohms * amps ** 2;
  if (2 * heat <= series.watts) return [];
  const burns = heat > series.watts;
  const watts = ratedWatts(heat);
  return [
    {
      finding: 'series-resistor-heat',
      about: rail,
      severity: burns ? 'destroys' : 'note',
      sentence: `The series resistor of ${rail} takes ${heat.toFixed(1)} W at full load; it is made for ${series.watts} W${burns ? '' : ', which leaves it too hot to touch'}.`,
      numbers: { resistor_W: heat, rated_W: series.watts },
      reason: 'P = I^2 R; resistors are run at half their rating (common practice)',
      ways: [
        [{ words: `fit one of ${watts} W`, changes: [{ key: `rails.${rail}.series.watts`, value: watts }] }],
      ],
      otherwise: `Fit one of ${watts} W.`,
    },
  ];
}

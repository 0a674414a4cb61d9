import type { JoinedInstrument } from '../channels.js';
import { halfWidth } from '../watch/compare.js';
import type { SensorTolerance } from '../../drivers/sensors/tolerance.js';

/** Where a case is touched, and where it cooks: degrees C. */
const SHOWN_AT = [25, 100];

/** A line for each channel whose sensor's own tolerance is counted into its readings. */
export function sensorLines(instruments: readonly JoinedInstrument[]): string[] {
  return instruments.flatMap(({ name, plans, sensors }) =>
    plans.flatMap(({ channel, accuracy }) => {
      const tolerance = sensors.get(channel)?.tolerance ?? null;
      if (tolerance === null) return [];
      const widths = SHOWN_AT.map((at) => `± ${halfWidth(at, accuracy).toPrecision(2)} K at ${at} °C`);
      return [`${name} ${channel}: ${toleranceWords(tolerance)}; with its meter ${widths.join(', ')}.`];
    }),
  );
}

function toleranceWords(tolerance: SensorTolerance): string {
  if (tolerance.kind === 'class') {
    const { class: word, standard, isAssumed } = tolerance;
    return `sensor of class ${word} (${standard})${isAssumed ? ', taken since class is not said' : ''}`;
  }
  const { r25Percent, betaPercent, isAssumed } = tolerance;
  const beta = betaPercent === 0 ? '' : `, beta ± ${betaPercent} %`;
  const taken = isAssumed ? ', taken where r25_percent or beta_percent is not said' : '';
  return `sensor of ± ${r25Percent} % of its ohms${beta}${taken}`;
}

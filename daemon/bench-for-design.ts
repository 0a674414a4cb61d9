import { stringify } from 'yaml';
import type { BenchLink } from './design/bench.js';
import type { Design } from './design/design.js';

/**
 * A bench that measures the main test points of any design, as the text of a bench file: a meter on the reservoir,
 * a board with a temperature probe on each regulator, and a board that prints the rails.
 * @param linkOf where each instrument is found
 */
export function benchForDesign(design: Design, linkOf: (instrument: string) => BenchLink): string {
  const rails = Object.keys(design.rails);
  const temperatures = rails.map((rail, i) => `T${i + 1}: {${rail}.case} C`).join(', ');
  const volts = rails.map((rail) => `${rail.toUpperCase()}: {${rail}.volts} V`).join(', ');
  return stringify({
    bench: `Simulated bench for ${design.design}`,
    instruments: {
      meter: {
        driver: 'scpi-meter',
        link: linkOf('meter'),
        channels: {
          volts: {
            measures: 'dc-volts',
            at: 'reservoir.volts',
            accuracy: { percent: 0.1, counts: 2, resolution: 0.001 },
          },
        },
      },
      probes: { driver: 'text-lines', link: linkOf('probes'), options: { pattern: temperatures } },
      rails: { driver: 'text-lines', link: linkOf('rails'), options: { pattern: volts } },
    },
  });
}

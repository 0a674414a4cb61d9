import type { Bench } from '../../../daemon/design/bench.js';
import { benchSchema } from '../../../daemon/design/bench.js';

/** The signal cabin's scope on the reservoir and on the lamp rail, in either dialect. */
export function scopeBench(dialect: string, options: Readonly<Record<string, unknown>> = {}): Bench {
  return benchSchema.parse({
    bench: 'Cabin table with a scope',
    instruments: {
      scope: {
        driver: 'scpi-scope',
        link: { tcp: 'localhost:5025' },
        options: {
          dialect,
          inputs: { 'reservoir.volts': { input: 1, attenuation: 10 }, 'lamps.volts': 2 },
          interval_ms: 500,
          ...options,
        },
      },
    },
  });
}

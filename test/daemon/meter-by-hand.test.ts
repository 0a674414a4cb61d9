import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { joinInstruments } from '../../daemon/channels.js';
import { loadDesign } from '../../daemon/design/load.js';
import { meterByHand } from '../../daemon/meter-by-hand.js';

const EXAMPLES = fileURLToPath(new URL('../../daemon/design/examples/', import.meta.url));

function pointsOf(example: string): string[] {
  const file = join(EXAMPLES, example, `${example}.design.yaml`);
  const [meter] = joinInstruments(meterByHand(loadDesign(readFileSync(file, 'utf8'), file)));
  return [...(meter?.probes.values() ?? [])];
}

describe('one meter by hand', () => {
  it('reaches what a multimeter with a thermocouple reaches, in the order of the design', () => {
    expect(pointsOf('signal-cabin')).toEqual([
      'reservoir.volts',
      'ambient.air',
      'lamps.volts',
      'lamps.case',
      'logic.volts',
      'logic.case',
    ]);
  });

  it.each(readdirSync(EXAMPLES))('serves %s', (example) => {
    expect(pointsOf(example).length).toBeGreaterThanOrEqual(4);
  });
});

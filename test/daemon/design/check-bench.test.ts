import { describe, expect, it } from 'vitest';
import { loadBench } from '../../../daemon/design/load.js';
import { BENCH_TEXT, benchMessage, cabin } from './signal-cabin.js';

const B = 'signal-cabin.bench.yaml';
const AT = 'instruments.meter.channels.volts.at';

describe('where a bench puts its probes', () => {
  it('a place that is no test point id', () => {
    expect(benchMessage('at: reservoir.volts', 'at: reservoir')).toBe(
      `${B}:17 ${AT}: found "reservoir"; a test point id, a part or rail and a quantity with a dot between (logic.volts), is allowed`,
    );
  });

  it('a quantity that the channel does not measure', () => {
    expect(benchMessage('at: reservoir.volts', 'at: logic.case')).toBe(
      `${B}:17 ${AT}: found "logic.case", but the channel measures dc-volts; a channel that measures temperature can sit there`,
    );
  });

  it('a test point that the design does not have, when the design is known', () => {
    expect(benchMessage('at: reservoir.volts', 'at: lamp.volts', cabin())).toBe(
      `${B}:17 ${AT}: this design has no such test point; did you mean lamps.volts?`,
    );
  });

  it('the example sits on the example design', () => {
    const bench = loadBench(BENCH_TEXT, B, cabin());
    expect(Object.keys(bench.instruments)).toEqual(['meter', 'probes', 'rails']);
    expect(bench.instruments['meter']?.channels['volts']?.at).toBe('reservoir.volts');
  });
});

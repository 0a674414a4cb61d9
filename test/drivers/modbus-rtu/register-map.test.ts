import { describe, expect, it } from 'vitest';
import { modbusRtu } from '../../../drivers/modbus-rtu/modbus-rtu.js';
import { register } from './stage.js';

describe('the register map', () => {
  it('is a list of channels', () => {
    const options = {
      registers: [
        register('lamps.case', 0, { scale: 0.1, offset: -40 }),
        register('logic.volts', 65_534, {
          type: 'float32',
          order: 'CDAB',
          measures: 'dc-volts',
          read: 'input',
        }),
      ],
      interval_ms: 500,
      timeout_ms: 200,
      baud: 19_200,
    };
    expect(modbusRtu.checkOptions(options)).toEqual([]);
    expect(modbusRtu.intervalMs(options)).toBe(500);
    expect(modbusRtu.channelsOf(options)).toEqual([
      { name: 'lamps.case', measures: 'temperature' },
      { name: 'logic.volts', measures: 'dc-volts' },
    ]);
  });

  it.each([
    [{}, ['registers']],
    [{ registers: [] }, ['registers']],
    [{ registers: 'all' }, ['registers']],
    [{ registers: [7] }, expect.arrayContaining(['registers.0.options'])],
    [{ registers: [register('a', -1)] }, ['registers.0.address']],
    [{ registers: [register('a', 65_535, { type: 'int32' })] }, ['registers.0.address']],
    [{ registers: [register('a', 0.5)] }, ['registers.0.address']],
    [{ registers: [register('a', 0, { unit: 0 })] }, ['registers.0.unit']],
    [{ registers: [register('a', 0, { unit: 248 })] }, ['registers.0.unit']],
    [{ registers: [register('a', 0, { read: 'coil' })] }, ['registers.0.read']],
    [{ registers: [register('a', 0, { type: 'int64' })] }, ['registers.0.type']],
    [{ registers: [register('a', 0, { order: 'CDAB' })] }, ['registers.0.order']],
    [{ registers: [register('a', 0, { scale: 0 })] }, ['registers.0.scale']],
    [{ registers: [register('a', 0, { offset: NaN })] }, ['registers.0.offset']],
    [{ registers: [register('a', 0, { measures: 'watts' })] }, ['registers.0.measures']],
    [
      { registers: [register('a', 0, { measures: undefined })] },
      expect.arrayContaining(['registers.0.measures']),
    ],
    [{ registers: [register('a', 0), register('a', 1)] }, ['registers.1.channel']],
    [
      { registers: [register('a', 0)], baud: 0, interval_ms: 1, timeout_ms: 'long' },
      ['baud', 'interval_ms', 'timeout_ms'],
    ],
  ])('%j has problems at %j', (options, keys) => {
    const problems = modbusRtu.checkOptions(options);
    expect(problems.map(({ key }) => key)).toEqual(keys);
    for (const { allowed } of problems) expect(allowed).not.toBe('');
  });
});

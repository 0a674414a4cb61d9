import { describe, expect, it } from 'vitest';
import { configureCommand, isHeaderOf, shortForm } from '../../../drivers/scpi-meter/functions.js';

describe('meter functions', () => {
  // SCPI-1999 volume 2, chapter 3 (CONFigure subsystem), from memory.
  it.each([
    ['dc-volts', 'CONF:VOLT:DC'],
    ['ac-volts', 'CONF:VOLT:AC'],
    ['dc-amps', 'CONF:CURR:DC'],
    ['ac-amps', 'CONF:CURR:AC'],
    ['ohms', 'CONF:RES'],
    ['temperature', 'CONF:TEMP'],
    ['frequency', 'CONF:FREQ'],
  ] as const)('%s is configured with %s', (measurand, command) => {
    expect(configureCommand(measurand)).toBe(command);
  });

  it('makes the short form as SCPI-1999 volume 1, 6.2.1 has it: the capitals', () => {
    expect(shortForm('MEASure:FRESistance?')).toBe('MEAS:FRES?');
  });

  it('knows a header by its function', () => {
    expect(isHeaderOf('dc-volts', 'volt:dc')).toBe(true);
    expect(isHeaderOf('dc-volts', 'VOLT:AC')).toBe(false);
  });
});

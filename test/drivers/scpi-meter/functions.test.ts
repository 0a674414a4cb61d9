import { describe, expect, it } from 'vitest';
import {
  configureCommand,
  functionNamed,
  integrationCommand,
  isHeaderOf,
  measureQuestion,
  shortForm,
} from '../../../drivers/scpi-meter/functions.js';

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

  it('asks for a fixed range where one is given (CONFigure and MEASure take it first)', () => {
    expect(configureCommand('dc-volts', 10)).toBe('CONF:VOLT:DC 10');
    expect(measureQuestion('dc-volts')).toBe('MEAS:VOLT:DC?');
    expect(measureQuestion('ohms', 10_000)).toBe('MEAS:RES? 10000');
  });

  // SCPI-1999 volume 2, SENSe: NPLCycles belongs to each DC function, from memory.
  it('sets the integration time where there is one', () => {
    expect(integrationCommand('dc-volts', 1)).toBe('VOLT:DC:NPLC 1');
    expect(integrationCommand('dc-amps', 10)).toBe('CURR:DC:NPLC 10');
    expect(integrationCommand('ohms', 0.2)).toBe('RES:NPLC 0.2');
    expect(integrationCommand('ac-volts', 1)).toBeNull();
  });

  it('makes the short form as SCPI-1999 volume 1, 6.2.1 has it: the capitals', () => {
    expect(shortForm('MEASure:FRESistance?')).toBe('MEAS:FRES?');
  });

  it('knows a header by its function', () => {
    expect(isHeaderOf('dc-volts', 'volt:dc')).toBe(true);
    expect(isHeaderOf('dc-volts', 'VOLT:AC')).toBe(false);
  });

  // SCPI-1999 volume 2, SENSe:FUNCtion: a string with the header, of which :DC may be left out; DCV is common practice.
  it.each([
    ['"VOLT"', 'dc-volts'],
    ['"VOLT:DC"', 'dc-volts'],
    ['VOLTage:AC', 'ac-volts'],
    ["'CURR:AC'", 'ac-amps'],
    ['DCV', 'dc-volts'],
    ['"FREQ"', 'frequency'],
    ['"DIOD"', null],
    ['', null],
  ] as const)('knows what %s measures', (name, measurand) => {
    expect(functionNamed(name)).toBe(measurand);
  });
});

import { describe, expect, it } from 'vitest';
import { headerMatcher, programUnits } from '../../../drivers/simulated/scpi-header.js';

describe('headers', () => {
  const fits = headerMatcher('MEASure:VOLTage[:DC]');

  // SCPI-1999 volume 1, 6.2.1: exactly the short or the long form of each word, optional words may be left out.
  it.each(['MEAS:VOLT', 'MEASURE:VOLTAGE:DC', 'MEAS:VOLTAGE', 'MEASURE:VOLT:DC'])(
    '%s is allowed',
    (header) => {
      expect(fits(header)).toBe(true);
    },
  );

  it.each(['MEASU:VOLT', 'MEA:VOLT', 'MEAS', 'MEAS:DC', 'MEAS:VOLT:DC:DC', 'MEAS:VOLT:', 'VOLT:DC'])(
    '%s is not',
    (header) => {
      expect(fits(header)).toBe(false);
    },
  );

  it('a first word may be the one left out', () => {
    const sense = headerMatcher('[SENSe:]FUNCtion[:ON]');
    expect(['FUNC', 'SENS:FUNC', 'SENSE:FUNCTION:ON', 'FUNC:ON'].every(sense)).toBe(true);
    expect(sense('SENS')).toBe(false);
  });
});

describe('messages', () => {
  it('are units with semicolons between, in any case', () => {
    expect(programUnits('*cls;*idn?')).toEqual([
      { header: '*CLS', isQuery: false, parameters: [] },
      { header: '*IDN', isQuery: true, parameters: [] },
    ]);
  });

  it('go on from the path of the header before, unless a colon leads', () => {
    const headers = (message: string) => programUnits(message).map(({ header }) => header);
    expect(headers('CONF:VOLT:DC;AC')).toEqual(['CONF:VOLT:DC', 'CONF:VOLT:AC']);
    expect(headers('CONF:VOLT:DC;:READ?')).toEqual(['CONF:VOLT:DC', 'READ']);
    expect(headers('SYST:VERS?;*CLS;ERR?')).toEqual(['SYST:VERS', '*CLS', 'SYST:ERR']);
  });

  it('take parameters at commas, and leave quoted text whole', () => {
    expect(programUnits('CONF:VOLT:DC 10, 0.001')[0]?.parameters).toEqual(['10', '0.001']);
    expect(programUnits('FUNC "VOLT;AC,1"')).toEqual([
      { header: 'FUNC', isQuery: false, parameters: ['"VOLT;AC,1"'] },
    ]);
  });

  it('may be empty', () => {
    expect(programUnits('')).toEqual([]);
    expect(programUnits(' ; ;\r')).toEqual([]);
  });
});

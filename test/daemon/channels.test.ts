import { describe, expect, it } from 'vitest';
import { joinInstruments } from '../../daemon/channels.js';
import { loadBench } from '../../daemon/design/load.js';

function joined(instrument: string) {
  const text = `bench: table\ninstruments:\n  hand: ${instrument}\n`;
  return joinInstruments({ file: 'table.bench.yaml', text, value: loadBench(text, 'table.bench.yaml') });
}

describe('the link of an instrument', () => {
  it('is none for one that a person reads', () => {
    const [one] = joined('{ driver: by-hand, channels: { volts: { measures: dc-volts } } }');
    expect(one?.plans).toEqual([{ instrument: 'hand', channel: 'volts', intervalMs: 100_000, typed: true }]);
    expect(() => joined('{ driver: by-hand, link: { tcp: "a:1" } }')).toThrow(
      /table\.bench\.yaml:3.*you type what this instrument shows; leave the link out/,
    );
  });

  it('is needed by one with a cable', () => {
    expect(() => joined('{ driver: scpi-meter }')).toThrow(
      /table\.bench\.yaml:3.*scpi-meter needs a link with serial, usb, usbtmc or tcp/,
    );
  });
});

const REGISTERS =
  'registers: [{ channel: logic.volts, unit: 1, read: input, address: 0, type: int16, measures: dc-volts }]';

function optionsOf(driver: string, link: string, options: string) {
  const text = `bench: b\ninstruments:\n  one:\n    driver: ${driver}\n    link: ${link}\n    options: { ${options} }\n`;
  const [joined] = joinInstruments({ file: 'b', text, value: loadBench(text, 'b') });
  return joined?.spec.options;
}

describe('joinInstruments', () => {
  it('tells a driver that wants it the speed of its link', () => {
    expect(optionsOf('modbus-rtu', '{ serial: /dev/x, baud: 19200 }', REGISTERS)).toMatchObject({
      baud: 19_200,
    });
    expect(optionsOf('modbus-rtu', '{ usb: "1a86:7523" }', REGISTERS)).toMatchObject({ baud: 9600 });
    expect(optionsOf('modbus-rtu', '{ tcp: "10.0.0.7:502" }', REGISTERS)).not.toHaveProperty('baud');
  });

  it("leaves the bench file's own word, and drivers that don't want it, alone", () => {
    const said = optionsOf('modbus-rtu', '{ serial: /dev/x, baud: 9600 }', `baud: 4800, ${REGISTERS}`);
    expect(said).toMatchObject({ baud: 4800 });
    const pattern = "pattern: 'T: {a} C'";
    expect(optionsOf('text-lines', '{ serial: /dev/x }', pattern)).toEqual({ pattern: 'T: {a} C' });
  });
});

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

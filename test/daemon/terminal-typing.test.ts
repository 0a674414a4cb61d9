import { PassThrough } from 'node:stream';
import { describe, expect, it } from 'vitest';
import { readTypedLines } from '../../daemon/terminal-input.js';
import { TerminalTyping } from '../../daemon/terminal-typing.js';
import { cabinSession } from './cabin-session.js';

const TWO_LEADS = `
bench: a meter with two leads and a thermocouple socket
instruments:
  hand:
    driver: by-hand
    channels:
      leads: { measures: dc-volts }
      socket: { measures: temperature, at: ambient.air }
`;

async function atTheTerminal(bench = TWO_LEADS) {
  const linkFor = () => {
    throw new Error('a typed instrument has no link');
  };
  const { session, events, clock } = await cabinSession(bench, () => ({ linkFor }));
  session.start();
  const said: string[] = [];
  const typing = new TerminalTyping(session, (line) => void said.push(line));
  const standing = (id: string) => session.state.points.find((point) => point.id === id);
  return { typing, said, events, clock, standing };
}

describe('typing for a meter whose leads move', () => {
  it('says that the probe moved before the reading, each time', async () => {
    const { typing, events, said } = await atTheTerminal();
    typing.begin();
    expect(said.at(-1)).toMatch(/^Next: reservoir\.volts/);
    typing.take('19.3');
    typing.take('logic.volts 5.02');
    typing.take('logic.volts 5.03');
    const told = events.flatMap((event) =>
      event.kind === 'probe'
        ? [`${event.channel} to ${event.point}`]
        : event.kind === 'reading'
          ? [`${event.channel} ${event.value} ${event.unit}`]
          : [],
    );
    expect(told).toEqual([
      'socket to ambient.air',
      'leads to reservoir.volts',
      'leads 19.3 V',
      'leads to logic.volts',
      'leads 5.02 V',
      'leads 5.03 V',
    ]);
  });

  it('goes on at an empty line, and where it is told to', async () => {
    const { typing, said } = await atTheTerminal();
    typing.begin();
    typing.take('');
    expect(said.at(-1)).not.toMatch(/reservoir\.volts/);
    typing.take('lamps.volts');
    expect(said.at(-1)).toMatch(/^Next: lamps\.volts/);
  });

  it('takes prefixes, decimal commas and an overload', async () => {
    const { typing, said, standing } = await atTheTerminal();
    typing.take('logic.volts 5020 mV');
    expect(standing('logic.volts')?.value).toBe(5.02);
    typing.take('logic.volts 5,03');
    expect(standing('logic.volts')?.value).toBe(5.03);
    typing.take('logic.volts OL');
    expect(standing('logic.volts')).toMatchObject({ value: null, mark: 'overload' });
    expect(said).toContain('logic.volts: overload');
  });

  it('is not wanted on a bench without such an instrument', async () => {
    const { typing } = await atTheTerminal('bench: empty\ninstruments: {}\n');
    expect(typing.isWanted).toBe(false);
  });

  it('bears junk and endless lines on standard input', async () => {
    const { typing, said, standing } = await atTheTerminal();
    const input = Object.assign(new PassThrough(), { unref: () => undefined });
    const stop = readTypedLines(input as unknown as NodeJS.ReadStream, (line) => typing.take(line));
    input.write(Buffer.alloc(100_000, 'A'));
    input.write(Buffer.from('\n\u0000\n\nlogic.volts 5.02\n'));
    await new Promise((resolve) => setImmediate(resolve));
    expect(standing('logic.volts')?.value).toBe(5.02);
    const before = said.length;
    stop();
    input.write('logic.volts 9\n');
    await new Promise((resolve) => setImmediate(resolve));
    expect(said.length).toBe(before);
  });
});

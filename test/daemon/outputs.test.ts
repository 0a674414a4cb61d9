import { describe, expect, it } from 'vitest';
import { joinOutputs } from '../../daemon/outputs.js';
import { loadBench } from '../../daemon/design/load.js';
import { instrumentPort } from '../../drivers/simulated/instrument-port.js';
import { relayBoardDevice } from '../../drivers/simulated/relay-board-device.js';
import { memoryLinkPair } from '../../drivers/links/memory.js';
import { cabinSession } from './cabin-session.js';

function benchWith(outputs: string): string {
  return `bench: table\ninstruments: {}\noutputs:\n  ${outputs}\n`;
}

async function tableWith(armed: boolean) {
  const contact: boolean[] = [];
  const opened: string[] = [];
  const text = benchWith(`cutoff: { driver: relay-lines, link: { serial: /dev/ttyUSB3 }, armed: ${armed} }`);
  const cabin = await cabinSession(text, (clock) => ({
    linkFor: ({ name }) => {
      opened.push(name);
      const { link, far } = memoryLinkPair('relay board');
      const port = instrumentPort();
      port.attach({
        send: (bytes) => far.send(bytes),
        unplug: () => Promise.resolve(),
        plugIn: () => Promise.resolve(),
      });
      far.onBytes((bytes) => port.receive(bytes));
      const onContact = (isClosed: boolean): void => void contact.push(isClosed);
      relayBoardDevice({ end: port, clock, deadMs: 3000, onContact }).start();
      return link;
    },
  }));
  cabin.session.start();
  return { ...cabin, contact, opened };
}

describe('an output of the bench', () => {
  it('is left alone unless it is armed', async () => {
    const { session, opened, pass } = await tableWith(false);
    await pass(1000);
    expect(opened).toEqual([]);
    await expect(session.switchOutput('cutoff', 'on')).rejects.toThrow(
      /cutoff is not armed; write armed: true/,
    );
    await expect(session.switchOutput('horn', 'on')).rejects.toThrow(/horn is no output of this bench/);
  });

  it('when armed is switched by nobody but a command, held by the ticks, and off when the session ends', async () => {
    const { session, contact, pass, events } = await tableWith(true);
    await pass(5000);
    expect(contact).toEqual([]);
    await session.switchOutput('cutoff', 'on');
    await pass(20_000);
    expect(contact).toEqual([true]);
    const states = events.filter((event) => event.kind === 'instrument').map(({ why }) => why);
    expect(states).toEqual(['connected at relay board', 'power is off', 'power is on']);
    await session.close();
    expect(contact).toEqual([true, false]);
  });

  it.each([
    [
      'a: { driver: banana, link: { serial: x } }',
      /:4 .*found "banana"; allowed is relay-lines, scpi-supply/,
    ],
    ['a: { driver: relay-lines, link: { serial: x }, options: { on: 5 } }', /:4 .*options\.on: found 5/],
    ['a: { driver: relay-lines }', /:4 .*link/],
  ])('%s is refused with its place', (outputs, message) => {
    const text = benchWith(outputs);
    expect(() => joinOutputs({ file: 't.bench.yaml', text, value: loadBench(text, 't.bench.yaml') })).toThrow(
      message,
    );
  });

  it('can not have the name of an instrument', () => {
    const text = benchWith('a: { driver: relay-lines, link: { serial: x } }').replace(
      'instruments: {}',
      'instruments: { a: { driver: by-hand } }',
    );
    expect(() => joinOutputs({ file: 't.bench.yaml', text, value: loadBench(text, 't.bench.yaml') })).toThrow(
      /a name that no instrument has/,
    );
  });
});

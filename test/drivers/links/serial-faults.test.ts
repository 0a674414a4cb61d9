import { SerialPortMock } from 'serialport';
import { beforeEach, describe, expect, it, onTestFinished } from 'vitest';
import { serialLink, type SerialBinding } from '../../../drivers/links/serial.js';
import { listenTo, times } from './heard.js';

const PATH = '/dev/ttyUSB0';
const MOCK = SerialPortMock.binding;

type Call = 'open' | 'read' | 'write' | 'set' | 'close';

/** Calls that fail now, with what the system says. */
type Failing = { [Each in Call]?: string };

function check(failing: Failing, call: Call): void {
  const says = failing[call];
  if (says !== undefined) throw new Error(`Error: ${says}`);
}

/** serialport's own port in memory, each call of which can be made to fail. */
function failingBinding(failing: Failing): SerialBinding {
  return {
    list: () => MOCK.list(),
    async open(options) {
      check(failing, 'open');
      const port = await MOCK.open(options);
      const read = port.read.bind(port);
      const write = port.write.bind(port);
      const set = port.set.bind(port);
      const close = port.close.bind(port);
      return Object.assign(port, {
        async read(...given: Parameters<typeof read>) {
          const found = await read(...given);
          check(failing, 'read');
          return found;
        },
        async write(...given: Parameters<typeof write>) {
          check(failing, 'write');
          return write(...given);
        },
        async set(...given: Parameters<typeof set>) {
          check(failing, 'set');
          return set(...given);
        },
        async close() {
          await close();
          check(failing, 'close');
        },
      });
    },
  };
}

function linked(failing: Failing, line = {}) {
  const link = serialLink({ path: PATH, baud: 9600, line, binding: failingBinding(failing) });
  onTestFinished(() => link.stop());
  const heard = listenTo(link);
  return {
    link,
    heard,
    isOpen: (count = 1) => heard.until((h) => times(h, 'open') + times(h, 'back') === count),
  };
}

describe('a serial port of which the system says that', () => {
  beforeEach(() => {
    MOCK.reset();
    MOCK.createPort(PATH, { echo: true, record: true });
  });

  it.each([
    ['Permission denied, cannot open', /no permission to open .*group dialout/],
    ['Device or resource busy EBUSY', /is in use by another program; close what else reads it/],
    ['Input/output error, cannot open', /does not open .*Input\/output error.*; unplug the device/],
    ['Too many open files', /does not open, for too many files are open; end other programs/],
  ])('opening fails (%s): told with the cure, and it is opened once that is over', async (says, words) => {
    const failing: Failing = { open: says };
    const { heard, isOpen } = linked(failing);
    await heard.until((h) => times(h, 'waiting') === 1);
    expect(heard.states[0]).toMatchObject({ why: expect.stringMatching(words) as string });
    delete failing.open;
    await isOpen();
  });

  it('reading fails: told as lost, nothing of that read is heard, and it is opened again', async () => {
    const failing: Failing = {};
    const { link, heard, isOpen } = linked(failing);
    await isOpen();
    failing.read = 'Input/output error';
    await link.write(Buffer.from('12.06\n'));
    await heard.until((h) => times(h, 'lost') === 1);
    delete failing.read;
    await isOpen(2);
    await link.write(Buffer.from('12.07\n'));
    await heard.until((h) => h.text().endsWith('12.07\n'));
    expect(heard.states[1]).toMatchObject({
      why: expect.stringMatching(/went away .*Input\/output error.*; check its cable/) as string,
    });
    expect(heard.text()).not.toContain('12.06');
  });

  it('writing fails: whoever writes is told, and it is opened again', async () => {
    const failing: Failing = {};
    const { link, heard, isOpen } = linked(failing);
    await isOpen();
    failing.write = 'Input/output error';
    await expect(link.write(Buffer.from('OUTP ON\n'))).rejects.toThrow(/Input\/output error/);
    await heard.until((h) => times(h, 'lost') === 1);
    delete failing.write;
    await isOpen(2);
    await link.write(Buffer.from('*IDN?\n'));
    await heard.until((h) => h.text().endsWith('*IDN?\n'));
    expect(heard.text()).not.toContain('OUTP');
  });

  it('its lines can’t be set: told with the cure, and it is opened once they can', async () => {
    const failing: Failing = { set: 'Inappropriate ioctl for device' };
    const { heard, isOpen } = linked(failing, { dtr: false });
    await heard.until((h) => times(h, 'waiting') === 1);
    expect(heard.states[0]).toMatchObject({
      why: expect.stringMatching(/has no DTR and RTS lines to set .*; leave dtr and rts out/) as string,
    });
    delete failing.set;
    await isOpen();
  });

  it('closing fails: it ends all the same', async () => {
    const failing: Failing = {};
    const { link, heard, isOpen } = linked(failing);
    await isOpen();
    failing.close = 'Input/output error';
    await link.stop();
    expect(heard.states.at(-1)).toEqual({ kind: 'closed' });
    await expect(link.write(Buffer.from('READ?\n'))).rejects.toMatchObject({ code: 'link-not-open' });
  });
});

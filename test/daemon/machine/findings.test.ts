import { describe, expect, it } from 'vitest';
import { findingsOf, type Finding } from '../../../daemon/machine/findings.js';
import type { MachineFacts } from '../../../daemon/machine/machine-facts.js';

const GOOD: MachineFacts = {
  system: 'linux',
  node: 'v20.20.2',
  user: 'ada',
  ports: [{ path: '/dev/ttyUSB0', kind: 'serial', usb: '1a86:7523', mayUse: true, group: 'dialout' }],
  recordings: { path: '/home/ada/job/recordings', trouble: null, freeBytes: 50e9 },
  pagePort: { port: 8610, trouble: null },
  hasPage: true,
  clock: { now: new Date('2026-11-25T18:40:00Z'), isKept: true },
};

function found(subject: string, changed: Partial<MachineFacts>): Finding {
  const finding = findingsOf({ ...GOOD, ...changed }).find((one) => one.subject === subject);
  if (finding === undefined) throw new Error(`nothing was found of ${subject}`);
  return finding;
}

it('finds nothing to mend on a good machine', () => {
  expect(findingsOf(GOOD).filter(({ state }) => state === 'mend')).toEqual([]);
});

describe('what is to be mended, and how', () => {
  it('a serial port of another group: join the group (common practice on Linux)', () => {
    const port = { ...GOOD.ports[0]!, mayUse: false };
    expect(found('/dev/ttyUSB0', { ports: [port] })).toMatchObject({
      state: 'mend',
      cure: 'Run sudo usermod -a -G dialout ada, then log out and in again.',
    });
  });

  it('a USB instrument that only root may use: a rule for it, with its own numbers', () => {
    const port = {
      path: '/dev/usbtmc0',
      kind: 'usbtmc',
      usb: '0957:1796',
      mayUse: false,
      group: 'root',
    } as const;
    const { cure } = found('/dev/usbtmc0', { ports: [port] });
    expect(cure).toContain(
      'SUBSYSTEM=="usbmisc", ATTRS{idVendor}=="0957", ATTRS{idProduct}=="1796", GROUP="plugdev", MODE="0660"',
    );
  });

  it.each<[string, Partial<MachineFacts>, RegExp]>([
    ['node', { node: 'v18.19.0' }, /Install Node 20\.19/],
    ['recordings', { recordings: { path: '/x', trouble: 'EACCES', freeBytes: null } }, /--recordings/],
    ['recordings', { recordings: { path: '/x', trouble: null, freeBytes: 50e6 } }, /Delete something/],
    ['page port', { pagePort: { port: 8610, trouble: 'EADDRINUSE' } }, /--port names another/],
    ['page', { hasPage: false }, /npm run build/],
    ['clock', { clock: { now: new Date('1970-01-01T00:10:00Z'), isKept: null } }, /Set the date/],
    ['clock', { clock: { now: new Date('2026-11-25T18:40:00Z'), isKept: false } }, /timedatectl set-ntp/],
  ])('%s', (subject, changed, cure) => {
    expect(found(subject, changed)).toMatchObject({
      state: 'mend',
      cure: expect.stringMatching(cure) as string,
    });
  });

  it('says how long the disk lasts: 12 bytes a reading, 80 readings a second', () => {
    // 3,456,000 bytes an hour by hand: 10 GB last 120 days.
    const { words } = found('recordings', { recordings: { path: '/x', trouble: null, freeBytes: 10e9 } });
    expect(words).toContain('10.0 GB free, 120 days of');
  });
});

it('nothing plugged in is nothing wrong: a meter can be read by hand', () => {
  expect(found('instruments', { ports: [] })).toMatchObject({ state: 'unknown' });
});

import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { askIdentity, listPorts } from '../../drivers/ports.js';
import { openPtyPair, type PtyPair } from './pty.js';

const none = () => Promise.resolve([]);

describe('listPorts', () => {
  it('describes each port in plain records, serial ports first', async () => {
    const board = {
      path: 'COM3',
      vendorId: '1A86',
      productId: '7523',
      serialNumber: 'A1',
      manufacturer: 'Some\x07one',
      product: 'Probe board',
    };
    const ports = await listPorts({
      serial: () => Promise.resolve([{ path: '/dev/ttyS0' }, board]),
      usbtmc: () => Promise.resolve([{ path: '/dev/usbtmc0', vendorId: '1ab2', productId: '0042' }]),
    });
    const unknown = { usb: null, serial: null, maker: null, product: null };
    expect(ports).toEqual([
      { ...unknown, path: '/dev/ttyS0', kind: 'serial' },
      {
        path: 'COM3',
        kind: 'serial',
        usb: '1a86:7523',
        serial: 'A1',
        maker: 'Some\\x07one',
        product: 'Probe board',
      },
      { ...unknown, path: '/dev/usbtmc0', kind: 'usbtmc', usb: '1ab2:0042' },
    ]);
  });

  it('says so when the system tells no ports', async () => {
    const serial = () => Promise.reject(new Error('spawn ENOENT'));
    await expect(listPorts({ serial, usbtmc: none })).rejects.toThrow(/install udev/);
  });
});

describe.skipIf(process.platform === 'win32')('askIdentity', () => {
  let directory: string;
  let pty: PtyPair;

  beforeEach(async () => {
    directory = await mkdtemp(join(tmpdir(), 'railminder-pty-'));
    pty = await openPtyPair(directory);
  });

  afterEach(async () => {
    await pty.unplug();
    await rm(directory, { recursive: true });
  });

  it('returns what answered', async () => {
    pty.onData((bytes) => void (bytes.toString() === '*IDN?\n' && pty.write('SIGNAL CABIN,METER,0,1.0\r\n')));
    expect(await askIdentity(pty.devicePath)).toBe('SIGNAL CABIN,METER,0,1.0');
  });

  it('returns no more than fits on a line, made printable', async () => {
    pty.onData(() => void pty.write(Buffer.alloc(100_000, '\x1b')));
    const answer = await askIdentity(pty.devicePath);
    expect(answer).toMatch(/^(\\x1b)+.{0,3}…$/);
    expect(answer).toHaveLength(200);
  });

  it('returns null for silence, and for a port that is not there', async () => {
    expect(await askIdentity(pty.devicePath)).toBeNull();
    expect(await askIdentity(join(directory, 'nothing'))).toBeNull();
  });

  it('leaves the port free', async () => {
    await askIdentity(pty.devicePath);
    pty.onData(() => void pty.write('again\n'));
    expect(await askIdentity(pty.devicePath)).toBe('again');
  });
});

import { describe, expect, it } from 'vitest';
import { pageAddress } from '../../daemon/page-options.js';

const CLOSED = { 'open-to-network': false };
const OPEN = { 'open-to-network': true };

describe('the page', () => {
  it('is on the loopback address without keys unless told', () => {
    expect(pageAddress(CLOSED)).toEqual({
      port: null,
      host: '127.0.0.1',
      keys: null,
      keyFile: null,
      certificate: null,
    });
    expect(pageAddress({ ...CLOSED, address: '::1' }).host).toBe('::1');
  });

  it('is on every address, with keys, when it is opened; on one of them when that is named', () => {
    expect(pageAddress(OPEN)).toMatchObject({ host: '0.0.0.0', keyFile: null });
    expect(pageAddress(OPEN).keys).not.toBeNull();
    expect(pageAddress({ ...OPEN, address: '192.168.1.20' })).toMatchObject({ host: '192.168.1.20' });
    expect(pageAddress({ ...OPEN, address: '127.0.0.1' }).keys).not.toBeNull();
  });

  it.each(['192.168.1.20', '0.0.0.0', '::', '10.0.0.1', 'fe80::1'])(
    'is never on %s without --open-to-network',
    (address) => {
      expect(() => pageAddress({ ...CLOSED, address })).toThrow(
        /others on the network reach that; add --open/,
      );
    },
  );

  it.each([
    [{ ...OPEN, address: 'cabin' }, /--address: found "cabin"; an IP address/],
    [{ ...OPEN, address: '127.0.0.1.evil.example' }, /--address: found/],
    [{ ...CLOSED, 'key-file': 'x' }, /--key-file: nobody is asked for a key/],
    [{ ...CLOSED, cert: 'x' }, /--cert and --key: both are needed/],
    [{ ...CLOSED, key: 'x' }, /--cert and --key: both are needed/],
    [{ ...CLOSED, cert: 'nowhere.pem', key: 'x' }, /--cert nowhere\.pem: it can't be read \(ENOENT\)/],
    [{ ...CLOSED, cert: 'package.json', key: 'package.json' }, /they don't serve for TLS/],
    [{ ...CLOSED, port: '70000' }, /--port: found "70000"/],
  ])('%j is refused with the cure', (given, message) => {
    expect(() => pageAddress(given)).toThrow(message);
  });
});

import { expect, it } from 'vitest';
import { addressesFor, ownNames } from '../../daemon/own-addresses.js';

it('one address is itself; all of them are those that others reach', () => {
  expect(addressesFor('192.168.1.20')).toEqual(['192.168.1.20']);
  for (const address of addressesFor('0.0.0.0')) {
    expect(address).toMatch(/^\d+\.\d+\.\d+\.\d+$/);
    expect(address).not.toMatch(/^127\./);
  }
});

it('the names are plain ones and never an address or a name in the Domain Name System', () => {
  for (const name of ownNames()) expect(name).toMatch(/^[a-z0-9-]+(?:\.local)?$/);
});

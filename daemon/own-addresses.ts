import { hostname, networkInterfaces } from 'node:os';
import { isIP } from 'node:net';

const EVERY_ADDRESS = ['0.0.0.0', '::'];

/** Under which addresses others reach a server that listens on this one; those of private networks first (RFC 1918). */
export function addressesFor(host: string): readonly string[] {
  if (!EVERY_ADDRESS.includes(host)) return [host];
  const found = Object.values(networkInterfaces()).flatMap((addresses = []) =>
    addresses.filter(({ internal, family }) => !internal && family === 'IPv4').map(({ address }) => address),
  );
  return [...new Set(found)].sort((a, b) => Number(isPrivate(b)) - Number(isPrivate(a)));
}

function isPrivate(address: string): boolean {
  return /^(?:10\.|192\.168\.|172\.(?:1[6-9]|2\d|3[01])\.)/.test(address);
}

/** This machine's names in its network: its own, and the one of multicast DNS (RFC 6762, section 3). */
export function ownNames(): readonly string[] {
  const [name = ''] = hostname().toLowerCase().split('.', 1);
  const isName = /^[a-z0-9-]{1,63}$/.test(name) && isIP(name) === 0;
  return isName ? [name, `${name}.local`] : [];
}

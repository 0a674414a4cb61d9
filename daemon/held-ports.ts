import { realpathSync } from 'node:fs';
import type { BenchLink } from './design/bench.js';
import type { PortDescription } from '../drivers/ports.js';

/** What the running session has open, or waits for: instruments and outputs. */
export interface HeldLink {
  readonly name: string;
  readonly link: BenchLink;
}

type Wanted = Pick<PortDescription, 'path' | 'usb' | 'serial'>;

/** The name of what holds a port, by whatever path or identity; null when it is free. */
export function heldBy(port: Wanted, held: readonly HeldLink[]): string | null {
  return held.find(({ link }) => isSame(port, link))?.name ?? null;
}

function isSame({ path, usb, serial }: Wanted, link: BenchLink): boolean {
  if ('tcp' in link) return link.tcp.toLowerCase() === path.toLowerCase();
  if ('serial' in link) return isSameFile(link.serial, path);
  const named = 'usb' in link ? link.usb : link.usbtmc;
  if (named.startsWith('/')) return isSameFile(named, path);
  const [vendor = '', product = '', ...rest] = named.split(':');
  const isKind = usb === `${vendor}:${product}`.toLowerCase();
  return isKind && (rest.length === 0 || rest.join(':') === serial);
}

/** Names of serial ports have no case on Windows; a link is the port that it leads to. */
function isSameFile(one: string, other: string): boolean {
  return one.toLowerCase() === other.toLowerCase() || resolved(one) === resolved(other);
}

function resolved(path: string): string {
  try {
    return realpathSync(path);
  } catch {
    return path; // not plugged in now, or no path at all
  }
}

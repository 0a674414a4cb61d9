import type { BenchLink } from './design/bench.js';
import type { Clock } from '../drivers/clock.js';
import type { Link } from '../drivers/link.js';
import { serialLink } from '../drivers/links/serial.js';
import { tcpLink } from '../drivers/links/tcp.js';

/** The real link that a bench file asks for. */
export function linkFor(link: BenchLink, clock: Clock): Link {
  if ('tcp' in link) return tcpLink({ ...hostAndPort(link.tcp), clock });
  if ('usb' in link) {
    const [vendor = '', product = '', ...serial] = link.usb.split(':');
    const usb = { vendor, product, ...(serial.length > 0 && { serial: serial.join(':') }) };
    return serialLink({ usb, baud: link.baud, clock });
  }
  return serialLink({ path: link.serial, baud: link.baud, clock });
}

/** What a person would call the link. */
export function linkWords(link: BenchLink): string {
  if ('tcp' in link) return `TCP ${link.tcp}`;
  if ('usb' in link) return `USB ${link.usb} at ${link.baud} baud`;
  return `${link.serial} at ${link.baud} baud`;
}

function hostAndPort(address: string): { host: string; port: number } {
  const colon = address.lastIndexOf(':');
  return {
    host: address.slice(0, colon).replace(/^\[(.*)\]$/, '$1'),
    port: Number(address.slice(colon + 1)),
  };
}

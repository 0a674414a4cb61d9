import type { BenchLink } from './design/bench.js';
import type { Clock } from '../drivers/clock.js';
import type { Link } from '../drivers/link.js';
import { serialLink, type SerialLine } from '../drivers/links/serial.js';
import { tcpLink } from '../drivers/links/tcp.js';
import type { UsbId } from '../drivers/links/usb-id.js';
import { usbtmcLink } from '../drivers/links/usbtmc.js';

type LineLink = Extract<BenchLink, { baud: number }>;

/**
 * The real link that a bench file asks for.
 * @throws RangeError for an instrument without one.
 */
export function linkFor(link: BenchLink | undefined, clock: Clock): Link {
  if (link === undefined) throw new RangeError('no link to open; an instrument without one is typed by hand');
  if ('tcp' in link) return tcpLink({ ...hostAndPort(link.tcp), clock });
  if ('usbtmc' in link) {
    const isPath = link.usbtmc.startsWith('/');
    return usbtmcLink({ ...(isPath ? { path: link.usbtmc } : { usb: usbId(link.usbtmc) }), clock });
  }
  const place = 'usb' in link ? { usb: usbId(link.usb) } : { path: link.serial };
  return serialLink({ ...place, baud: link.baud, line: serialLine(link), clock });
}

/** What a person would call the link. */
export function linkWords(link: BenchLink | undefined): string {
  if (link === undefined) return 'typed by hand';
  if ('tcp' in link) return `TCP ${link.tcp}`;
  if ('usbtmc' in link) return `USB instrument ${link.usbtmc}`;
  const place = 'usb' in link ? `USB ${link.usb}` : link.serial;
  return `${place} at ${link.baud} baud${frameWords(link)}`;
}

/** The link's bits per second; undefined where there are none. */
export function baudOf(link: BenchLink | undefined): number | undefined {
  return link !== undefined && 'baud' in link ? link.baud : undefined;
}

function serialLine({ parity, data_bits, stop_bits, flow_control, dtr, rts }: LineLink): SerialLine {
  return {
    ...(parity !== undefined && { parity }),
    ...(data_bits !== undefined && { dataBits: data_bits }),
    ...(stop_bits !== undefined && { stopBits: stop_bits }),
    ...(flow_control !== undefined && { flowControl: flow_control }),
    ...(dtr !== undefined && { dtr: dtr === 'on' }),
    ...(rts !== undefined && { rts: rts === 'on' }),
  };
}

/** ` 7E1` where it isn't the usual eight bits without parity (common notation of the trade). */
function frameWords({ parity = 'none', data_bits = 8, stop_bits = 1 }: LineLink): string {
  const frame = `${data_bits}${parity.charAt(0).toUpperCase()}${stop_bits}`;
  return frame === '8N1' ? '' : ` ${frame}`;
}

function usbId(text: string): UsbId {
  const [vendor = '', product = '', ...serial] = text.split(':');
  return { vendor, product, ...(serial.length > 0 && { serial: serial.join(':') }) };
}

function hostAndPort(address: string): { host: string; port: number } {
  const colon = address.lastIndexOf(':');
  return {
    host: address.slice(0, colon).replace(/^\[(.*)\]$/, '$1'),
    port: Number(address.slice(colon + 1)),
  };
}
